/** What happened at the door, one line each. Never a passphrase, a code or a token; nothing typed can break a line. */
import type { FastifyRequest } from 'fastify';
import { placeOf } from './guesses.ts';

export type SecurityEvent =
  | 'signed-in'
  | 'sign-in-refused'
  | 'signed-out'
  | 'set-up'
  | 'set-up-refused'
  | 'not-allowed'
  | 'too-many-requests'
  | 'wrong-host'
  | 'cross-site'
  | 'signature-refused'
  | 'people-changed'
  | 'keys-changed'
  | 'class-code-refused'
  | 'class-code-rotated';

export type SecurityLog = (line: string) => void;

/** JSON escapes the control characters below a space; these are the others that a terminal may act on. */
const UNSAFE = /[\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;
const LONGEST = 200;

const escaped = (text: string): string =>
  text.replaceAll(UNSAFE, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);

/** Phones of a class are young people's: their lines name the network, not the phone. */
const placeIn = (event: SecurityEvent, address: string): string => {
  if (!event.startsWith('class-')) return address;
  const place = placeOf(address);
  return place.replace(/\.\d+$/, '.0/24');
};

export const securityLine = (
  at: Date,
  event: SecurityEvent,
  request: FastifyRequest,
  facts: Record<string, string> = {},
): string => {
  const short = Object.fromEntries(Object.entries(facts).map(([name, value]) => [name, value.slice(0, LONGEST)]));
  const line = {
    at: at.toISOString(),
    security: event,
    from: placeIn(event, request.ip),
    request: request.id,
    ...short,
  };
  return escaped(JSON.stringify(line));
};

export const logged = (request: FastifyRequest, event: SecurityEvent, facts: Record<string, string> = {}): void => {
  const { desk } = request.server;
  desk?.options.log(securityLine(desk.options.clock(), event, request, facts));
};
