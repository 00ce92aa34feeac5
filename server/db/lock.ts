import Database from 'better-sqlite3';

export class LogbookInUse extends Error {}

/**
 * One server per logbook: an exclusive transaction kept open on a small file of its own. The system drops the lock
 * when the process ends, however it ends, so a killed server blocks nothing.
 * @returns the function that gives the logbook free
 */
export const takeLogbook = (lockFile: string): (() => void) => {
  const handle = new Database(lockFile, { timeout: 0 });
  try {
    handle.exec('begin exclusive');
  } catch (error) {
    handle.close();
    if (error instanceof Database.SqliteError && error.code.startsWith('SQLITE_BUSY'))
      throw new LogbookInUse(
        'Another Tarebook already has this logbook open. Stop it first, or use another data folder.',
      );
    throw error;
  }
  return () => {
    handle.exec('rollback');
    handle.close();
  };
};
