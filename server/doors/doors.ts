/** What is asked of every request before who it is from: by which name, from which page, at which door. */
import type { FastifyInstance } from 'fastify';
import { Problem } from '../problem.ts';
import { logged } from '../people/security-log.ts';
import { isFromAnotherSite } from './cross-site.ts';
import { answerAtClassDoor, isAtClassDoor } from './class-door.ts';
import type { HostNames } from './host.ts';

declare module 'fastify' {
  interface FastifyInstance {
    hostNames: HostNames;
    /** Where the listener for classes is, as a browser types it, and its page; null without one. */
    classDoor: { address: string | null; page: ((reply: FastifyReply) => FastifyReply) | null };
    /** Done when the server begins to close. */
    beforeClosing: (() => void)[];
  }
}

export const guardDoors = (app: FastifyInstance, hostNames: HostNames): void => {
  app.addHook('onRequest', (request, reply, done) => {
    if (!hostNames.allows(request.headers.host)) {
      logged(request, 'wrong-host', { host: request.headers.host ?? '' });
      done(new Problem('wrong-host'));
      return;
    }
    if (isFromAnotherSite(request)) {
      logged(request, 'cross-site', { origin: request.headers.origin ?? '' });
      done(new Problem('cross-site'));
      return;
    }
    if (isAtClassDoor(request) && answerAtClassDoor(request, reply)) return;
    done();
  });
};
