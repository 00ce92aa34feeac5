/** Programs of others that read PDF files, and how a test goes on where they are not installed. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const has = (program: string): boolean => spawnSync(program, ['--version']).error === undefined;

/** Why the programs cannot be asked; null where they can, and always null in continuous integration. */
export const noPdfPrograms = (): string | null =>
  process.env['CI'] === 'true' || (has('pdftotext') && has('qpdf')) ? null : 'pdftotext and qpdf are not installed';

const inFile = <T>(pdf: Buffer, ask: (file: string, folder: string) => T): T => {
  const folder = mkdtempSync(join(tmpdir(), 'tarebook-pdf-'));
  try {
    const file = join(folder, 'paper.pdf');
    writeFileSync(file, pdf);
    return ask(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** Text of each page, runs of white space as one space. */
export const pagesOf = (pdf: Buffer): string[] =>
  inFile(pdf, (file) => execFileSync('pdftotext', ['-layout', file, '-']).toString('utf8'))
    .split('\f')
    .slice(0, -1)
    .map((page) => page.replaceAll(/\s+/g, ' '));

/** @returns what qpdf says of the file's structure */
export const checked = (pdf: Buffer): string =>
  inFile(pdf, (file) => execFileSync('qpdf', ['--check', file]).toString('utf8'));

export const attached = (pdf: Buffer, name: string): Buffer =>
  inFile(pdf, (file) => execFileSync('qpdf', [`--show-attachment=${name}`, file], { maxBuffer: 2 ** 26 }));

/** The tags of a file with the texts below them, in the order they are read out. */
export const structureOf = (pdf: Buffer): string =>
  inFile(pdf, (file) => execFileSync('pdfinfo', ['-struct-text', file], { maxBuffer: 2 ** 26 }).toString('utf8'));
