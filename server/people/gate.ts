/** Asks every request who it is from and whether they may; before anything of it is read. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { isAtClassDoor } from '../doors/class-door.ts';
import { Problem } from '../problem.ts';
import { UNNAMED_ACTOR, type Access, type Program } from './access.ts';
import type { Desk } from './desk.ts';
import { securityLine } from './security-log.ts';

const LOOPBACK = /^(?:127\.\d+\.\d+\.\d+|::1|::ffff:127\.\d+\.\d+\.\d+)$/i;

/** From this machine itself. What a proxy hands on comes from somewhere else. */
const isLocal = ({ ip, headers }: FastifyRequest): boolean =>
  LOOPBACK.test(ip) && headers['forwarded'] === undefined && headers['x-forwarded-for'] === undefined;

const isOpen = (access: Access | undefined): boolean => access === 'open';

/** @returns the token of `Authorization: Bearer …`; null without one */
const bearer = ({ headers }: FastifyRequest): string | null =>
  headers.authorization === undefined ? null : (/^Bearer +(\S+) *$/i.exec(headers.authorization)?.[1] ?? '');

const notSignedIn = (detail: string): Problem =>
  new Problem('not-signed-in', { detail, headers: { 'www-authenticate': 'Bearer realm="Tarebook"' } });

const mayProgram = ({ scope }: Program, access: Access, method: string): boolean => {
  if (access === 'open' || access.includes('program')) return true;
  if (scope === 'read') return access.includes('auditor') && (method === 'GET' || method === 'HEAD');
  return scope === 'record' && access.includes('technician');
};

/** Somebody of a class; what they do stands in the journal without a name. */
const admitOfClass = (desk: Desk, request: FastifyRequest, access: Access): boolean => {
  const session = desk.whoseOfClass(request);
  if (session === null || access === 'open' || !access.includes(session.kind)) return false;
  request.classSession = session;
  request.actor = `class ${session.kind}`;
  return true;
};

/** The token stands in the address: programs that show calendars can say nothing else. */
const admitCalendar = (desk: Desk, request: FastifyRequest): true | undefined => {
  const { token = '' } = request.params as { token?: string };
  const person = isAtClassDoor(request) ? null : desk.whoseCalendar(token);
  if (person === null) return undefined;
  request.actor = `calendar of ${person.name}`;
  return true;
};

/** Sets who it is. @returns whether it may call the route; undefined while nobody is known */
const admit = (desk: Desk, request: FastifyRequest, access: Access): boolean | undefined => {
  const { config } = request.routeOptions;
  if (config.calendarFeed === true) return admitCalendar(desk, request);
  // A browser sends its cookies to every port of a machine; the listener for classes knows nobody of the staff.
  if (isAtClassDoor(request)) return admitOfClass(desk, request, access) ? true : undefined;
  const token = bearer(request);
  if (token !== null) {
    const key = desk.key(token);
    if (key === null) return undefined;
    request.actor = `key ${key.name}`;
    return mayProgram(key, access, request.method) && config.mayIssue !== true && config.personOnly !== true;
  }
  const known = desk.whose(request);
  const mayStaff = known !== null && (access === 'open' || access.includes(known.person.role));
  if (!mayStaff && admitOfClass(desk, request, access)) return true;
  if (known) {
    const { id, name, role, mayIssue } = known.person;
    desk.sessions.touch(known.session);
    request.person = { id, name, role, mayIssue };
    request.actor = name;
    return mayStaff && (config.mayIssue !== true || mayIssue);
  }
  if (!desk.setupNeeded || !isLocal(request)) return undefined;
  request.actor = UNNAMED_ACTOR;
  return true;
};

/** Addresses below /api that lead nowhere are not told from those that do until somebody signs in. */
const NOWHERE: Access = ['keeper', 'technician', 'teacher', 'auditor', 'program'];

/** @throws Problem `not-signed-in`, `not-allowed` */
export const requireAccess = (desk: Desk, request: FastifyRequest, access: Access): void => {
  if (isOpen(access)) return;
  const allowed = admit(desk, request, access);
  if (allowed === true) return;
  if (allowed === undefined)
    throw notSignedIn(
      desk.setupNeeded
        ? 'Nobody can sign in yet. Set up the first keeper first, with the code that the server printed at its start.'
        : 'Sign in to go on.',
    );
  desk.options.log(
    securityLine(desk.options.clock(), 'not-allowed', request, {
      actor: request.actor,
      route: `${request.method} ${request.routeOptions.url ?? ''}`,
    }),
  );
  throw new Problem('not-allowed');
};

/** Paths are compared decoded, as the router does. */
const isOfTheApi = (url: string): boolean => {
  try {
    return /^\/+api(?:[/?#]|$)/i.test(decodeURI(url).replaceAll(/%2f/gi, '/'));
  } catch {
    return true;
  }
};

/** What the router found for an address, or the want of a sign-in where it found nothing below /api. */
export const accessOf = (request: FastifyRequest): Access => {
  const { access } = request.routeOptions.config;
  if (access !== undefined) return access;
  return isOfTheApi(request.url) ? NOWHERE : 'open';
};

export const guardAccess = (app: FastifyInstance, desk: Desk): void => {
  app.addHook('onRequest', (request, _reply, done) => {
    try {
      requireAccess(desk, request, accessOf(request));
      done();
    } catch (error) {
      done(error as Error);
    }
  });
};

/** For addresses the router itself refuses: no hook is asked about those. @returns the refusal, if any */
export const requireAccessToAddress = (request: FastifyRequest): Problem | null => {
  const { desk } = request.server;
  if (!desk || !isOfTheApi(request.url)) return null;
  if (desk.whose(request) || (desk.setupNeeded && isLocal(request))) return null;
  const token = bearer(request);
  return token !== null && desk.key(token) !== null ? null : new Problem('not-signed-in');
};

/** Before people exist the hook lets everybody on this machine pass; what only a person can do waits for one. */
export const requirePerson = (app: FastifyInstance): void => {
  app.addHook('preHandler', (request, _reply, done) => {
    const isMissing = request.routeOptions.config.personOnly === true && request.person === null;
    done(isMissing ? new Problem('not-signed-in') : undefined);
  });
};
