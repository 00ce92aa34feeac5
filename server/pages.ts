import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply } from 'fastify';

/**
 * Serves the built pages. Hashed assets may be kept for ever; the page itself is asked for each time.
 * @returns how to answer any page address, since the rooms are told apart in the browser
 */
export const servePages = async (
  app: FastifyInstance,
  folder: string,
): Promise<(reply: FastifyReply) => FastifyReply> => {
  await app.register(fastifyStatic, {
    root: folder,
    wildcard: false,
    cacheControl: false,
    setHeaders: (response, path) => {
      const kept = /[\\/]assets[\\/]/.test(path);
      response.setHeader('cache-control', kept ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  return (reply) => reply.sendFile('index.html', folder);
};
