/** What every answer tells the browser about itself. */
import type { FastifyHelmetOptions } from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';

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
const HALF_A_YEAR_S = 180 * 24 * 3600;

/**
 * Over plain http nothing may ask the browser to come back by https, and browsers warn of the two headers about windows,
 * which only count where the connection is trusted.
 */
export const helmetOptions = (tls: boolean): FastifyHelmetOptions => ({
  contentSecurityPolicy: CONTENT_SECURITY_POLICY,
  hsts: tls ? { maxAge: HALF_A_YEAR_S, includeSubDomains: false } : false,
  crossOriginOpenerPolicy: tls,
  originAgentCluster: tls,
  xFrameOptions: { action: 'deny' },
});

/** Answers about the record stay in no cache of a browser that several people use. */
export const forbidStoring = (app: FastifyInstance): void => {
  app.addHook('onRequest', (request, reply, done) => {
    if (request.routeOptions.config.access !== undefined) reply.header('cache-control', 'no-store');
    done();
  });
};

/** For answers that no hook sees: the address was none, or what came was not HTTP. */
export const BARE_HEADERS = {
  'cache-control': 'no-store',
  'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
};
