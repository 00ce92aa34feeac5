import fastifyStatic from '@fastify/static';
import { existsSync } from 'node:fs';
import path from 'node:path';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';

type Page = (reply: FastifyReply) => FastifyReply;

/** Pages of a class: the same file at each address, also where staff pages come from. */
const CLASS_PAGE = 'class.html';
const OF_CLASSES = /^\/(?:join|group|board|assist)(?:[/?]|$)/;

/**
 * Serves the built pages. Hashed assets may be kept for ever; the page itself is asked for each time.
 * @returns how to answer any page address, since the rooms are told apart in the browser, and those of a class
 */
export const servePages = async (
  app: FastifyInstance,
  folder: string,
): Promise<(request: FastifyRequest, reply: FastifyReply) => FastifyReply> => {
  await app.register(fastifyStatic, {
    root: folder,
    wildcard: false,
    cacheControl: false,
    setHeaders: (response, path) => {
      const kept = /[\\/]assets[\\/]/.test(path);
      response.setHeader('cache-control', kept ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  const classPage: Page | null = existsSync(path.join(folder, CLASS_PAGE))
    ? (reply) => reply.sendFile(CLASS_PAGE, folder)
    : null;
  app.classDoor.page = classPage;
  return (request, reply) =>
    classPage !== null && OF_CLASSES.test(request.url) ? classPage(reply) : reply.sendFile('index.html', folder);
};
