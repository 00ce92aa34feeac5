/** Setting text: the embedded font, what it cannot show, and lines of a width. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Style } from './ink.ts';

type Document = PDFKit.PDFDocument;

const resolve = createRequire(import.meta.url).resolve;
const FILES = {
  regular: '@expo-google-fonts/noto-sans/400Regular/NotoSans_400Regular.ttf',
  strong: '@expo-google-fonts/noto-sans/600SemiBold/NotoSans_600SemiBold.ttf',
};
const read = new Map<string, Buffer>();

/** Taken apart anew for each paper: a font that two papers share forgets which signs some of its glyphs stand for. */
export function registerFonts(document: Document): void {
  for (const [name, file] of Object.entries(FILES)) {
    const bytes = read.get(name) ?? readFileSync(resolve(file));
    read.set(name, bytes);
    document.registerFont(name, bytes);
  }
}

/** Signs the font has not, as their readers would type them. */
const STAND_INS: Record<string, string> = {
  '≤': '<=',
  '≥': '>=',
  '≠': '!=',
  '≈': '~',
  '→': '->',
  '√': 'sqrt ',
  '∞': 'inf.',
  '∂': 'd',
  '✓': 'yes',
  '\t': ' ',
  '\u{fe0e}': '',
  '\u{fe0f}': '',
};

interface Glyphs {
  hasGlyphForCodePoint(codePoint: number): boolean;
}

/** Text the font can show. A sign it has not is written by its Unicode number, so that nothing vanishes unseen. */
export function printable(document: Document, text: string): string {
  // pdfkit keeps the parsed font of the current style to itself; it alone knows which signs it holds
  const { font } = (document as unknown as { _font: { font: Glyphs } })._font;
  const show = (sign: string): string => {
    const point = sign.codePointAt(0) ?? 0;
    if (point < 0x7f) return sign === '\t' ? ' ' : sign;
    if (font.hasGlyphForCodePoint(point)) return sign;
    return STAND_INS[sign] ?? `[U+${point.toString(16).toUpperCase().padStart(4, '0')}]`;
  };
  return /^[\n\x20-\x7e]*$/.test(text) ? text : Array.from(text, show).join('');
}

export function useStyle(document: Document, { font, size, colour }: Style): void {
  document.font(font).fontSize(size).fillColor(colour);
}

/** Breaks text into lines no wider than a width; a word that is wider alone is broken too. */
export function linesOf(document: Document, text: string, width: number, style: Style): string[] {
  useStyle(document, style);
  const wide = (piece: string): boolean => document.widthOfString(piece) > width + 0.01;
  return printable(document, text)
    .split(/\r?\n/)
    .flatMap((paragraph) => {
      const lines: string[] = [];
      let line = '';
      for (const word of paragraph.split(/ +/)) {
        const longer = line === '' ? word : `${line} ${word}`;
        if (!wide(longer)) {
          line = longer;
          continue;
        }
        if (line !== '') lines.push(line);
        const pieces = wide(word) ? broken(word, wide) : [word];
        lines.push(...pieces.slice(0, -1));
        line = pieces.at(-1) ?? '';
      }
      return [...lines, line];
    });
}

/** A word in pieces that each fit. */
function broken(word: string, wide: (piece: string) => boolean): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const sign of word) {
    if (piece !== '' && wide(piece + sign)) {
      pieces.push(piece);
      piece = sign;
    } else piece += sign;
  }
  return [...pieces, piece];
}
