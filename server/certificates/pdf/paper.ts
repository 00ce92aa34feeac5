/**
 * A paper under construction: pages, what runs along on each of them, headings and paragraphs, all of it tagged. Nothing
 * here reads a clock or draws a random number: the same input gives the same bytes.
 */
import PDFDocument from 'pdfkit';
import { INK, MEASURE, PAGE, SHEETS, STYLES, type SheetSize, type Style } from './ink.ts';
import { linesOf, printable, registerFonts, useStyle } from './type.ts';

export interface PaperInput {
  title: string;
  /** Written into the file as its date of creation. */
  createdAt: string;
  subject: string;
  /** Program and version. */
  program: string;
  /** At the head of each page, left and right. */
  running: { left: string; right: string };
  /** At the foot of each page, left of the page number. */
  foot: string;
  /** A line no page may miss, or null. */
  banner: string | null;
  /** Left out: A4. */
  sheet?: SheetSize;
}

export type Structure = PDFKit.PDFStructureElement;
export type Tag = 'P' | 'H1' | 'H2' | 'H3' | 'Sect' | 'Table' | 'TR' | 'TH' | 'TD' | 'Figure' | 'Caption';

/** Options of a structure element that the types of the library leave out. */
export interface TagOptions {
  alt?: string;
  scope?: 'Column' | 'Row';
  bbox?: [number, number, number, number];
  placement?: string;
}

export class Paper {
  readonly document: PDFKit.PDFDocument;
  /** Of a page, in points. */
  readonly height: number;
  y: number = PAGE.top;
  readonly #input: PaperInput;
  readonly #chunks: Buffer[] = [];
  readonly #finished: Promise<Buffer>;
  readonly #root: Structure;
  #section: Structure;
  /** What stands at the head on the right, from which page on. */
  readonly #named: { page: number; text: string }[] = [];

  constructor(input: PaperInput) {
    this.#input = input;
    const { width, height } = SHEETS[input.sheet ?? 'a4'];
    this.height = height;
    const created = new Date(input.createdAt);
    const margins = { top: 0, bottom: 0, left: 0, right: 0 };
    this.document = new PDFDocument({
      size: [width, height],
      margins,
      pdfVersion: '1.7',
      tagged: true,
      lang: 'en',
      displayTitle: true,
      bufferPages: true,
      info: {
        Title: input.title,
        Subject: input.subject,
        Creator: input.program,
        Producer: input.program,
        CreationDate: created,
        ModDate: created,
      },
    });
    const { document } = this;
    this.#finished = new Promise((resolve, reject) => {
      document.on('data', (chunk: Buffer) => this.#chunks.push(chunk));
      document.on('end', () => resolve(Buffer.concat(this.#chunks)));
      document.on('error', reject);
    });
    registerFonts(document);
    this.#root = document.struct('Document');
    document.addStructure(this.#root);
    this.#section = this.#root;
  }

  /** Height left on this page. */
  get room(): number {
    return this.height - PAGE.bottom - this.y;
  }

  newPage(): void {
    this.document.addPage();
    this.y = PAGE.top;
  }

  /** What this page and those after it are about: at their heads, in place of what runs along. */
  name(text: string): void {
    this.#named.push({ page: this.document.bufferedPageRange().count, text });
  }

  /** A new page where less height is left than is needed. */
  need(height: number): void {
    if (this.room < height) this.newPage();
  }

  space(height: number): void {
    this.y += height;
  }

  /** An element of the structure below another, the current section if none is named. */
  tag(type: Tag, options: TagOptions = {}, parent: Structure = this.#section): Structure {
    const element = this.document.struct(type, options);
    parent.add(element);
    return element;
  }

  /** Something drawn as the content of a new element. */
  draw(type: Tag, draw: () => void, options: TagOptions = {}, parent: Structure = this.#section): void {
    this.tag(type, options, parent).add(draw);
  }

  /** Something drawn that says nothing: lines, shades, what repeats. */
  decorate(draw: () => void): void {
    this.document.markContent('Artifact', { type: 'Layout' });
    draw();
    this.document.endMarkedContent();
  }

  /** One line at a place. Not tagged by itself. */
  set(text: string, x: number, y: number, style: Style, align: 'left' | 'right' | 'center' = 'left', width = 0): void {
    useStyle(this.document, style);
    const shown = printable(this.document, text);
    const slack = align === 'left' ? 0 : width - this.document.widthOfString(shown);
    const shift = align === 'center' ? slack / 2 : slack;
    if (shown !== '') this.document.text(shown, x + shift, y, { lineBreak: false });
  }

  /** A section with its heading, which never stands alone at the foot of a page. */
  section(heading: string, needs = 60): void {
    this.need(needs + 30);
    if (this.y > PAGE.top + 1) this.space(11);
    this.#section = this.tag('Sect', {}, this.#root);
    const y = this.y;
    this.draw('H2', () => this.set(heading, PAGE.left, y, STYLES.heading));
    this.decorate(() => this.rule(y + STYLES.heading.leading + 2.5, INK.hair));
    this.y = y + STYLES.heading.leading + 8;
  }

  subheading(text: string, needs = 40): void {
    this.need(needs + 20);
    const y = this.y;
    this.draw('H3', () => this.set(text, PAGE.left, y, STYLES.strong));
    this.y = y + STYLES.strong.leading + 3;
  }

  rule(y: number, colour: string = INK.hair, width = 0.6): void {
    this.document
      .moveTo(PAGE.left, y)
      .lineTo(PAGE.left + MEASURE, y)
      .lineWidth(width)
      .strokeColor(colour)
      .stroke();
  }

  /** A paragraph over the measure; it goes on over as many pages as it needs. */
  paragraph(text: string, style: Style = STYLES.body, gap = 4): void {
    const lines = linesOf(this.document, text, MEASURE, style);
    this.flow(lines, style, this.tag('P'));
    this.space(gap);
  }

  /** A paragraph behind a dash. */
  item(text: string, style: Style = STYLES.body): void {
    const indent = 9;
    const lines = linesOf(this.document, text, MEASURE - indent, style);
    this.need(Math.min(lines.length, 3) * style.leading);
    const y = this.y;
    this.decorate(() => this.set('–', PAGE.left, y, { ...style, colour: INK.quiet }));
    this.flow(lines, style, this.tag('P'), PAGE.left + indent);
    this.space(2);
  }

  /** Lines one below the other, over page ends too, as the content of one element. */
  flow(lines: readonly string[], style: Style, element: Structure, x: number = PAGE.left): void {
    let rest = lines;
    while (rest.length > 0) {
      if (this.room < Math.min(rest.length, 2) * style.leading) this.newPage();
      const fit = rest.slice(0, Math.max(1, Math.floor((this.room + 0.01) / style.leading)));
      const top = this.y;
      element.add(() => fit.forEach((line, index) => this.set(line, x, top + index * style.leading, style)));
      this.y = top + fit.length * style.leading;
      rest = rest.slice(fit.length);
    }
  }

  /** Goes with the file as `name`, the data behind what is printed. */
  attach(bytes: Buffer, name: string, description: string): void {
    const created = new Date(this.#input.createdAt);
    const options = { name, type: 'application/xml', description, relationship: 'Data' };
    this.document.file(bytes, { ...options, creationDate: created, modifiedDate: created });
  }

  /** Head and foot on every page, then the bytes. */
  async finish(): Promise<Buffer> {
    const { count } = this.document.bufferedPageRange();
    for (let page = 0; page < count; page += 1) {
      this.document.switchToPage(page);
      this.document.markContent('Artifact', { type: 'Pagination' });
      this.#furniture(page + 1, count);
      this.document.endMarkedContent();
    }
    this.document.end();
    return this.#finished;
  }

  #furniture(page: number, count: number): void {
    const { running, foot, banner } = this.#input;
    const style = STYLES.smallQuiet;
    const [top, bottom] = [30, this.height - 38];
    const right = this.#named.findLast((one) => one.page <= page)?.text ?? running.right;
    const leftLine = linesOf(this.document, running.left, MEASURE * 0.5, style)[0] ?? '';
    this.set(leftLine, PAGE.left, top, style);
    this.set(right, PAGE.left, top, { ...STYLES.smallStrong, colour: INK.ink }, 'right', MEASURE);
    this.rule(top + 13, INK.line);
    if (banner !== null) this.#banner(banner, top + 15.5);
    this.rule(bottom - 5, INK.line);
    this.set(foot, PAGE.left, bottom, style);
    this.set(`page ${page} of ${count}`, PAGE.left, bottom, style, 'right', MEASURE);
  }

  #banner(banner: string, y: number): void {
    const style = { ...STYLES.smallStrong, colour: INK.fail };
    this.document.rect(PAGE.left, y, MEASURE, 12.5).lineWidth(0.7).fillAndStroke('#fbf1ec', INK.fail);
    this.set(banner, PAGE.left, y + 1.4, style, 'center', MEASURE);
  }
}
