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

const PAGE = `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Tarebook</title></head>
<body><main><h1>Tarebook</h1><p>No class experiment is open to join. Ask your teacher.</p></main></body>
</html>
`;

/** @returns true when it answered; what is left goes on to its route */
export const answerAtClassDoor = (request: FastifyRequest, reply: FastifyReply): boolean => {
  if (request.routeOptions.config.classListener === true) return false;
  const isPage = (request.method === 'GET' || request.method === 'HEAD') && /^\/(?:\?|$)/.test(request.url);
  if (isPage) void reply.header('cache-control', 'no-store').type('text/html; charset=utf-8').send(PAGE);
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
