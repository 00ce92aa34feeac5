import cookie from '@fastify/cookie';
import helmet from '@fastify/helmet';
import swagger from '@fastify/swagger';
import Fastify, {
  LogController,
  type FastifyHttpOptions,
  type FastifyInstance,
  type FastifyServerOptions,
} from 'fastify';
import type { Server } from 'node:http';
import { jsonSchemaTransformObject, serializerCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod';
import { describeRoute } from './api-document.ts';
import { Backups } from './backups/backups.ts';
import type { Job } from './backups/jobs.ts';
import { backupRoutes } from './backups/routes.ts';
import { calibrationRoutes } from './calibrations/routes.ts';
import { summaryRoutes } from './certificates/routes-summaries.ts';
import { certificateRoutes } from './certificates/routes.ts';
import type { Logbook } from './db/logbook.ts';
import { guardDoors } from './doors/doors.ts';
import { BARE_HEADERS, forbidStoring, helmetOptions } from './doors/headers.ts';
import { HostNames } from './doors/host.ts';
import { answerClientErrors, answerErrors, answerFrameworkErrors, refuse } from './errors.ts';
import { Exporting } from './exports/exporting.ts';
import { experimentRoutes } from './experiments/routes.ts';
import { exportRoutes } from './exports/routes.ts';
import { glasswareRoutes } from './glassware/routes.ts';
import { instrumentRoutes } from './instruments/routes.ts';
import { JournalChecking } from './journal/checking.ts';
import { journalRoutes } from './journal/routes.ts';
import type { Fault } from './journal/verify.ts';
import { labelRoutes } from './labels/routes.ts';
import { laboratoryRoutes } from './laboratory/routes.ts';
import { readLaboratory } from './laboratory/store.ts';
import { servePages } from './pages.ts';
import { UNNAMED_ACTOR } from './people/access.ts';
import { Desk } from './people/desk.ts';
import { guardAccess, requireAccessToAddress } from './people/gate.ts';
import { doorRoutes } from './people/routes.ts';
import type { SecurityLog } from './people/security-log.ts';
import { lotRoutes } from './lots/routes.ts';
import { oldSheetRoutes } from './old-sheets/routes.ts';
import { recordingSheetRoutes } from './recording-sheets/routes.ts';
import { Problem } from './problem.ts';
import { overTimeRoutes } from './over-time/routes.ts';
import { recordsRoutes } from './records/routes.ts';
import { referenceRoutes } from './reference/routes.ts';
import { newRequestId, readJsonOnly } from './requests.ts';
import { validatorCompiler } from './validation.ts';
import { solutionRoutes } from './solutions/routes.ts';
import { toleranceRoutes } from './tolerances/routes.ts';
import { VERSION } from './version.ts';

export interface AppOptions {
  logbook: Logbook;
  /** Folder of the built pages; null serves the API alone. */
  pagesFolder: string | null;
  clock?: () => Date;
  /** A command: its requests are its own, nobody has to sign in, and this stands in the journal. */
  actor?: string;
  /** The one-time code that makes the first keeper. */
  setupCode?: string;
  /** The address of HOST, one of the names the server answers to. */
  host?: string;
  /** Certificate and key, when the pages come over TLS. */
  tls?: { cert: Buffer; key: Buffer } | null;
  /** Staff pages travel unencrypted beyond this machine; each says so. */
  plainHttp?: boolean;
  securityLog?: SecurityLog;
  /** Closes this server, does a job on the files of the logbook, and opens it again. */
  onRestart?: (job: Job) => void;
  /** Given by whoever starts their schedule. */
  backups?: Backups;
  /** What the start found wrong with the journal. */
  journalFault?: Fault | null;
  /** The same of a look that goes on after the start. */
  laterFault?: Promise<Fault | null>;
  logger?: FastifyServerOptions['logger'];
}

export type App = ReturnType<typeof bare>;

const LARGEST_BODY_BYTES = 1_000_000;

const bare = (options: AppOptions) => {
  const settings: FastifyHttpOptions<Server> = {
    logger: options.logger ?? false,
    bodyLimit: LARGEST_BODY_BYTES,
    genReqId: newRequestId,
    // An address the router cannot take is refused like any other: first of all for want of a sign-in.
    frameworkErrors: (error, request, reply) => {
      reply.headers(BARE_HEADERS);
      answerFrameworkErrors?.(requireAccessToAddress(request) ?? error, request, reply);
    },
    clientErrorHandler: answerClientErrors,
    routerOptions: { maxParamLength: 200 },
    forceCloseConnections: true,
    logController: new LogController({ disableRequestLogging: true }),
  };
  if (options.tls) Object.assign(settings, { https: options.tls });
  return Fastify(settings).withTypeProvider<ZodTypeProvider>();
};

/** A new route that does not say who may call it stops the server from starting. */
const demandAccess = (app: FastifyInstance): void => {
  app.addHook('onRoute', (route) => {
    if (route.config?.access === undefined)
      throw new Error(`${String(route.method)} ${route.url} does not declare who may call it.`);
  });
};

/** Everything that stands between a request and the routes. @returns null for a command, which passes them all */
const openDoors = async (app: App, options: AppOptions, clock: () => Date): Promise<Desk | null> => {
  const { logbook, tls, plainHttp, setupCode, securityLog, host } = options;
  const hostNames = new HostNames(host ?? null);
  app.decorate('hostNames', hostNames);
  app.decorate('beforeClosing', []);
  app.decorate('classDoor', { address: null, page: null });
  app.addHook('preClose', async () => app.beforeClosing.forEach((step) => step()));
  forbidStoring(app);
  if (options.actor !== undefined) {
    app.decorate('desk', null);
    return null;
  }
  const log = securityLog ?? (() => undefined);
  const facts = { logbook, clock, setupCode: setupCode ?? null, tls: Boolean(tls), plainHttp: plainHttp === true, log };
  const desk = await Desk.open(facts);
  app.decorate('desk', desk);
  app.addHook('onClose', async () => desk.close());
  hostNames.replace((await logbook.read(readLaboratory)).hostNames);
  guardDoors(app, hostNames);
  guardAccess(app, desk);
  return desk;
};

export const buildApp = async (options: AppOptions): Promise<App> => {
  const app = bare(options);
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  answerErrors(app);
  readJsonOnly(app);
  app.decorateRequest('actor', options.actor ?? UNNAMED_ACTOR);
  app.decorateRequest('person', null);
  app.decorateRequest('classSession', null);
  const { logbook } = options;
  const clock = options.clock ?? (() => new Date());
  await app.register(cookie, { hook: false });
  await app.register(helmet, helmetOptions(Boolean(options.tls)));
  const desk = await openDoors(app, options, clock);
  await app.register(swagger, {
    openapi: { openapi: '3.1.0', info: { title: 'Tarebook', version: VERSION } },
    transform: describeRoute,
    transformObject: jsonSchemaTransformObject,
  });
  const backups = options.backups ?? new Backups(logbook, clock);
  const checking = new JournalChecking(logbook.file, clock, options.journalFault ?? null);
  void options.laterFault?.then((fault) => checking.learn(fault));
  const exporting = new Exporting(logbook.file);
  app.addHook('onClose', async () => {
    await Promise.all([backups.close(), checking.close(), exporting.close()]);
  });
  await app.register(
    async (api) => {
      demandAccess(api);
      // Registered, not called: its hook asks for a person on its own routes alone.
      if (desk) await api.register(doorRoutes, { desk });
      await referenceRoutes(api, {});
      await laboratoryRoutes(api, { logbook, journalFault: () => checking.fault });
      await glasswareRoutes(api, { logbook });
      await lotRoutes(api, { logbook, clock });
      await oldSheetRoutes(api, { logbook, clock });
      await instrumentRoutes(api, { logbook, clock });
      await overTimeRoutes(api, { logbook });
      await calibrationRoutes(api, { logbook, clock });
      await certificateRoutes(api, { logbook });
      await journalRoutes(api, { logbook, checking });
      await exportRoutes(api, { exporting, clock });
      await backupRoutes(api, { logbook, clock, backups, onRestart: options.onRestart ?? null });
      await summaryRoutes(api, { logbook, clock });
      await labelRoutes(api, { logbook, clock });
      await recordingSheetRoutes(api, { logbook, clock });
      await toleranceRoutes(api, { logbook });
      await solutionRoutes(api, { logbook, clock });
      await recordsRoutes(api, { logbook, clock });
      await experimentRoutes(api, { logbook, clock, desk });
    },
    { prefix: '/api' },
  );
  const page = options.pagesFolder === null ? null : await servePages(app, options.pagesFolder);
  app.setNotFoundHandler((request, reply) => {
    const wantsPage = request.method === 'GET' && request.headers.accept?.includes('text/html') === true;
    if (page !== null && wantsPage && !/^\/api(?:[/?]|$)/.test(request.url)) return page(request, reply);
    return refuse(new Problem('not-found', { detail: 'There is nothing at this address.' }), request, reply);
  });
  await app.ready();
  return app;
};
