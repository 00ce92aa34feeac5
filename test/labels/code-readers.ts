/** Programs of others that read square codes from a picture, and how a test goes on where they are not installed. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const has = (program: string): boolean => spawnSync(program, ['--version']).error === undefined;

/** Why codes cannot be read; null where they can. */
export const noCodeReaders = (): string | null =>
  ['pdftoppm', 'zbarimg', 'dmtxread'].every(has) ? null : 'pdftoppm, zbarimg and dmtxread are not installed';

const DOTS_PER_INCH = 300;
const dots = (mm: number): string => String(Math.round((mm * DOTS_PER_INCH) / 25.4));

export interface PartMm {
  xMm: number;
  yMm: number;
  widthMm: number;
  heightMm: number;
}

/** The first page of a PDF file, or a part of it, as a printer of 300 dots an inch would print it. */
const printed = <T>(pdf: Buffer, part: PartMm | null, ask: (picture: string) => T): T => {
  const folder = mkdtempSync(join(tmpdir(), 'tarebook-labels-'));
  try {
    writeFileSync(join(folder, 'sheet.pdf'), pdf);
    const cut = part
      ? ['-x', dots(part.xMm), '-y', dots(part.yMm), '-W', dots(part.widthMm), '-H', dots(part.heightMm)]
      : [];
    const page = ['-r', String(DOTS_PER_INCH), '-png', '-gray', '-singlefile', '-f', '1', ...cut];
    execFileSync('pdftoppm', [...page, join(folder, 'sheet.pdf'), join(folder, 'sheet')]);
    return ask(join(folder, 'sheet.png'));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** What every QR code of the first page holds, in no order. */
export const qrCodesOf = (pdf: Buffer): string[] =>
  printed(pdf, null, (picture) =>
    execFileSync('zbarimg', ['--quiet', '--raw', '-Sdisable', '-Sqrcode.enable', picture], {
      stdio: ['ignore', 'pipe', 'ignore'],
    })
      .toString('utf8')
      .split('\n')
      .filter((line) => line !== ''),
  );

/** What the one Data Matrix in a part of the first page holds. */
export const dataMatrixIn = (pdf: Buffer, part: PartMm): string =>
  printed(pdf, part, (picture) => execFileSync('dmtxread', ['-N1', '-m5000', picture]).toString('utf8'));
