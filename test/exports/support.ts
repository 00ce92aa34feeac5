/** Exports as files: made from a logbook, unpacked into memory or a folder. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { buffer } from 'node:stream/consumers';
import { fromBuffer } from 'yauzl';
import { connect } from '../../server/db/connection.ts';
import { archive } from '../../server/exports/archive.ts';
import type { Filter } from '../../server/exports/selection.ts';

export const EVERYTHING: Filter = { vessel: null, lot: null, from: null, to: null };

export const exported = async (
  file: string,
  options: { filter?: Partial<Filter>; certificates?: boolean; workbook?: boolean; at?: Date } = {},
): Promise<Buffer> => {
  const handle = connect(file, { readOnly: true });
  try {
    const { output } = archive(handle, {
      filter: { ...EVERYTHING, ...options.filter },
      certificates: options.certificates ?? true,
      workbook: options.workbook ?? false,
      at: options.at ?? new Date('2026-09-14T12:00:00.000Z'),
    });
    return await buffer(output);
  } finally {
    handle.close();
  }
};

export const unzipped = (zip: Buffer): Promise<Map<string, Buffer>> =>
  new Promise((resolve, reject) => {
    const files = new Map<string, Buffer>();
    fromBuffer(zip, { lazyEntries: true }, (error, archived) => {
      if (error) return reject(error);
      archived.on('entry', (entry: { fileName: string }) => {
        archived.openReadStream(entry as never, (failed, stream) => {
          if (failed) return reject(failed);
          void buffer(stream).then((content) => {
            files.set(entry.fileName, content);
            archived.readEntry();
          }, reject);
        });
      });
      archived.once('end', () => resolve(files));
      archived.readEntry();
    });
  });

export const unpackInto = (folder: string, files: ReadonlyMap<string, Buffer>): void => {
  for (const [name, content] of files) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), content);
  }
};
