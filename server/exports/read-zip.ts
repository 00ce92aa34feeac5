/** Files of a zip, read one at a time. */
import type { Readable } from 'node:stream';
import { buffer } from 'node:stream/consumers';
import { open, type Entry, type ZipFile } from 'yauzl';

/** The file is not what it should be; the message is one plain sentence. */
export class UnfitExport extends Error {}

export interface OpenZip {
  names: string[];
  /** @throws UnfitExport where there is no such file */
  stream(name: string): Promise<Readable>;
  bytes(name: string): Promise<Buffer>;
  close(): void;
}

const openFile = (path: string): Promise<ZipFile> =>
  new Promise((resolve, reject) => {
    open(path, { lazyEntries: true, autoClose: false }, (error, zip) => {
      if (error) reject(new UnfitExport(`${path} cannot be read as a zip: ${error.message}.`));
      else resolve(zip);
    });
  });

const entriesOf = (zip: ZipFile): Promise<Map<string, Entry>> =>
  new Promise((resolve, reject) => {
    const entries = new Map<string, Entry>();
    zip.on('entry', (entry: Entry) => {
      entries.set(entry.fileName, entry);
      zip.readEntry();
    });
    zip.once('end', () => resolve(entries));
    zip.once('error', (error: Error) => reject(new UnfitExport(`The zip is damaged: ${error.message}.`)));
    zip.readEntry();
  });

export const openZip = async (path: string): Promise<OpenZip> => {
  const zip = await openFile(path);
  const entries = await entriesOf(zip);
  const stream = (name: string): Promise<Readable> =>
    new Promise((resolve, reject) => {
      const entry = entries.get(name);
      if (!entry) return reject(new UnfitExport(`${name} is missing in the export.`));
      zip.openReadStream(entry, (error, opened) => {
        if (error) reject(new UnfitExport(`${name} cannot be read: ${error.message}.`));
        else resolve(opened);
      });
    });
  return {
    names: [...entries.keys()],
    stream,
    bytes: async (name) => buffer(await stream(name)),
    close: () => zip.close(),
  };
};
