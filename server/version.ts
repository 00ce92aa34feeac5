import { readFileSync } from 'node:fs';

/** From package.json: two levels up from the built file, one from the source. */
const versionOfPackage = (): string => {
  for (const step of ['../package.json', '../../package.json']) {
    try {
      const parsed: unknown = JSON.parse(readFileSync(new URL(step, import.meta.url), 'utf8'));
      if (typeof parsed === 'object' && parsed !== null && 'version' in parsed) return String(parsed.version);
    } catch {
      // the other place has it
    }
  }
  throw new Error('package.json was not found beside the program.');
};

export const VERSION = versionOfPackage();
