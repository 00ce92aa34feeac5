import helmet from '@fastify/helmet';
import swagger from '@fastify/swagger';
import Fastify, { type FastifyInstance, type FastifyServerOptions } from 'fastify';
import { serializerCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod';
import { describeRoute } from './api-document.ts';
import { calibrationRoutes } from './calibrations/routes.ts';
import type { Logbook } from './db/logbook.ts';
import { answerClientErrors, answerErrors, answerFrameworkErrors, refuse } from './errors.ts';
import { glasswareRoutes } from './glassware/routes.ts';
import { instrumentRoutes } from './instruments/routes.ts';
import { laboratoryRoutes } from './laboratory/routes.ts';
import { servePages } from './pages.ts';
import { UNNAMED_ACTOR } from './people/access.ts';
import { Problem } from './problem.ts';
import { recordsRoutes } from './records/routes.ts';
import { referenceRoutes } from './reference/routes.ts';
import { newRequestId, readJsonOnly } from './requests.ts';
import { validatorCompiler } from './validation.ts';
import { toleranceRoutes } from './tolerances/routes.ts';
import { VERSION } from './version.ts';

export interface AppOptions {
  logbook: Logbook;
  /** Folder of the built pages; null serves the API alone. */
  pagesFolder: string | null;
  clock?: () => Date;
  /** Who stands in the journal for requests without a person. */
  actor?: string;
  logger?: FastifyServerOptions['logger'];
}

export type App = ReturnType<typeof bare>;

const LARGEST_BODY_BYTES = 1_000_000;

const bare = (options: AppOptions) =>
  Fastify({
    logger: options.logger ?? false,
    bodyLimit: LARGEST_BODY_BYTES,
    genReqId: newRequestId,
    frameworkErrors: answerFrameworkErrors,
    clientErrorHandler: answerClientErrors,
    routerOptions: { maxParamLength: 200 },
    forceCloseConnections: true,
  }).withTypeProvider<ZodTypeProvider>();

/** A new route that does not say who may call it stops the server from starting. */
const demandAccess = (app: FastifyInstance): void => {
  app.addHook('onRoute', (route) => {
    if (route.config?.access === undefined)
      throw new Error(`${String(route.method)} ${route.url} does not declare who may call it.`);
  });
};

const CONTENT_SECURITY_POLICY = {
  useDefaults: false,
  directives: {
    defaultSrc: ["'self'"],
    imgSrc: ["'self'", 'data:'],
    objectSrc: ["'none'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
  },
};

export const buildApp = async (options: AppOptions): Promise<App> => {
  const app = bare(options);
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  answerErrors(app);
  readJsonOnly(app);
  app.decorateRequest('actor', options.actor ?? UNNAMED_ACTOR);
  app.decorateRequest('person', null);
  await app.register(helmet, { contentSecurityPolicy: CONTENT_SECURITY_POLICY, hsts: false });
  await app.register(swagger, {
    openapi: { openapi: '3.1.0', info: { title: 'Tarebook', version: VERSION } },
    transform: describeRoute,
  });
  const { logbook } = options;
  const clock = options.clock ?? (() => new Date());
  await app.register(
    async (api) => {
      demandAccess(api);
      await api.register(referenceRoutes);
      await api.register(laboratoryRoutes, { logbook });
      await api.register(glasswareRoutes, { logbook });
      await api.register(instrumentRoutes, { logbook, clock });
      await api.register(calibrationRoutes, { logbook, clock });
      await api.register(toleranceRoutes, { logbook });
      await api.register(recordsRoutes, { logbook, clock });
    },
    { prefix: '/api' },
  );
  const page = options.pagesFolder === null ? null : await servePages(app, options.pagesFolder);
  app.setNotFoundHandler((request, reply) => {
    const wantsPage = request.method === 'GET' && request.headers.accept?.includes('text/html') === true;
    if (page !== null && wantsPage && !/^\/api(?:[/?]|$)/.test(request.url)) return page(reply);
    return refuse(new Problem('not-found', { detail: 'There is nothing at this address.' }), request, reply);
  });
  await app.ready();
  return app;
};
