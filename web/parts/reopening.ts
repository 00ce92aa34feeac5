import type { BackupList } from '../../server/backups/contract.ts';
import { get, NetworkError, ProblemError } from '../api.ts';

const ASK_EVERY_MS = 500;
const PATIENCE_MS = 120_000;

/** Whether the server has opened a logbook since; null while it does not answer. */
async function hasReopened(openedAt: string): Promise<boolean> {
  try {
    return (await get<BackupList>('/api/backups')).openedAt !== openedAt;
  } catch (error) {
    if (error instanceof NetworkError) return false;
    // In another logbook nobody is signed in yet; a server about to close refuses in its own way.
    if (error instanceof ProblemError) return error.status === 401 || error.status === 403;
    throw error;
  }
}

/** Waits until the server has opened again after the opening named. @returns false when it took too long */
export async function untilReopened(openedAt: string): Promise<boolean> {
  const end = Date.now() + PATIENCE_MS;
  while (Date.now() < end) {
    await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS));
    if (await hasReopened(openedAt)) return true;
  }
  return false;
}
