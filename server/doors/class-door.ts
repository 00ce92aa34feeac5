/**
 * A second listener for classes: phones and tablets of a room reach only what is meant for them, and nothing of the record,
 * whoever is signed in.
 */
import { createServer, type IncomingMessage, type Server } from 'node:http';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { refuse } from '../errors.ts';
import { Problem } from '../problem.ts';

const cameIn = new WeakSet<IncomingMessage>();

export const isAtClassDoor = (request: FastifyRequest): boolean => cameIn.has(request.raw);

const NO_PAGES = `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Tarebook</title></head>
<body><main><h1>Tarebook</h1><p>The pages for classes are not here. Ask whoever keeps this server to build them.</p></main></body>
</html>
`;
const PAGES = /^\/(?:(?:join|group|board|assist)\/?)?(?:\?|$)/;

/** What the pages are made of: the program itself, no data. Only files that are there have a route. */
const isAsset = ({ routeOptions }: FastifyRequest): boolean => routeOptions.url?.startsWith('/assets/') === true;

/** @returns true when it answered; what is left goes on to its route */
export const answerAtClassDoor = (request: FastifyRequest, reply: FastifyReply): boolean => {
  if (request.routeOptions.config.classListener === true || isAsset(request)) return false;
  const isPage = (request.method === 'GET' || request.method === 'HEAD') && PAGES.test(request.url);
  const page = request.server.classDoor.page;
  if (isPage && page !== null) void page(reply);
  else if (isPage)
    void reply.code(404).header('cache-control', 'no-store').type('text/html; charset=utf-8').send(NO_PAGES);
  else void refuse(new Problem('not-found', { detail: 'There is nothing at this address.' }), request, reply);
  return true;
};

/** Listens for the class; ends with the server. */
export const openClassDoor = async (app: FastifyInstance, host: string, port: number): Promise<Server> => {
  const server = createServer((request, response) => {
    cameIn.add(request);
    app.routing(request, response);
  });
  server.on('clientError', (_error, socket) => {
    if (socket.writable) socket.end('HTTP/1.1 400 Bad Request\r\nconnection: close\r\ncontent-length: 0\r\n\r\n');
    else socket.destroy();
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen({ host, port }, resolve);
  });
  return server;
};
