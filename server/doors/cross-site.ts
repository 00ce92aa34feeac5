/** Pages of other sites may not change anything here, even from a browser that is signed in. */
import type { FastifyRequest } from 'fastify';

const CHANGING = new Set(['POST', 'PATCH', 'PUT', 'DELETE']);

const hostOf = (origin: string): string | null => {
  try {
    return new URL(origin).host;
  } catch {
    return null;
  }
};

/** `localhost:80` and `localhost` are the same place over http. */
const withoutDefaultPort = (host: string, origin: string): string | null => {
  try {
    return new URL(`${new URL(origin).protocol}//${host}`).host;
  } catch {
    return null;
  }
};

/** True for a changing request that a browser sends for another site. What says nothing of a site is no browser. */
export const isFromAnotherSite = ({ method, headers }: FastifyRequest): boolean => {
  if (!CHANGING.has(method)) return false;
  // A browser sends no key by itself.
  if (/^Bearer /i.test(headers.authorization ?? '')) return false;
  const site = headers['sec-fetch-site'];
  if (site !== undefined) return site !== 'same-origin' && site !== 'none';
  const { origin, host } = headers;
  if (origin === undefined) return false;
  const theirs = hostOf(origin);
  return theirs === null || theirs === '' || theirs !== withoutDefaultPort(host ?? '', origin);
};
