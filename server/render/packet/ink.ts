import PDFDocument from 'pdfkit';
import { ACCIDENTAL, ACCIDENTAL_SCALE, CHORD_GLYPHS } from '#music';
import { FACES, fileOf, segmentsOf, type Face, type Segment } from './faces.ts';
import type { PaperLayout } from './paper.ts';

/** Ink and rubric as they are printed (`web/style/tokens.css`). */
export const COLOURS = {
  ink: '#000000',
  faint: '#444444',
  rule: '#999999',
  rubric: '#92201f',
  paper: '#ffffff',
} as const;
export type Colour = keyof typeof COLOURS;

export interface Style {
  readonly face: Face;
  /** Points, or the unit that is drawn in. */
  readonly size: number;
  readonly colour?: Colour;
  /** Small letters as small capitals, which only the serif has. */
  readonly capitals?: boolean;
}

/** What pdfkit has and its types do not say. */
interface Internals {
  readonly _font: {
    readonly id: string;
    ref: () => unknown;
    readonly font: { readonly hasGlyphForCodePoint: (codePoint: number) => boolean };
    widthOfString: (text: string, size: number, features?: readonly string[]) => number;
  };
}

const CAPITALS = ['smcp'];

export interface InkOptions {
  /** Streams as they are, so that a test can read them. Default true. */
  readonly compress?: boolean;
  readonly info?: PDFKit.DocumentInfo;
}

/** A document that is written on: text in faces that have its signs, drawn accidentals, outlines kept once. */
export class Ink {
  readonly doc: PDFKit.PDFDocument;
  /** Signs that no face has, as they came. */
  readonly missing = new Set<string>();
  readonly #fonts = new Map<Face, Internals['_font']>();
  readonly #segments = new Map<string, readonly Segment[]>();
  readonly #widths = new Map<string, number>();
  readonly #outlines = new Map<string, { readonly name: string; readonly form: PDFKit.PDFKitReference }>(); // prettier-ignore

  constructor({ width, height }: PaperLayout, { compress = true, info = {} }: InkOptions = {}) {
    this.doc = new PDFDocument({
      size: [width, height],
      margin: 0,
      autoFirstPage: false,
      bufferPages: true,
      compress,
      info,
      lang: 'en',
      displayTitle: true,
      pdfVersion: '1.7',
    });
    for (const face of FACES) {
      this.doc.registerFont(face, fileOf(face));
      this.doc.font(face);
      this.#fonts.set(face, (this.doc as unknown as Internals)._font);
    }
  }

  /** Width of a line of text in the unit of its size. */
  width(text: string, style: Style): number {
    return this.#run(text, style).reduce((sum, segment) => sum + this.#advance(segment, style), 0);
  }

  /** Writes a line from its left end on the line of the text; says how wide it is. */
  write(text: string, x: number, y: number, style: Style): number {
    const run = this.#run(text, style);
    const drawn = run.some((segment) => 'accidental' in segment);
    // What is copied is the whole name, with the accidentals that are drawn (ISO 32000-1, 14.9.4).
    if (drawn) this.doc.markContent('Span', { actual: text });
    let at = x;
    for (const segment of run) {
      if ('accidental' in segment) this.#accidental(segment.accidental, at, y, style);
      else this.#text(segment, at, y, style);
      at += this.#advance(segment, style);
    }
    if (drawn) this.#endSpan(style);
    return at - x;
  }

  /**
   * Ends a stretch that is copied as other text. poppler measures it by the font and the space that are in force at its end,
   * and takes up a font only where text is shown, so an empty text is: else the words lie upside down on the page.
   */
  #endSpan({ face, size }: Style): void {
    const { doc } = this;
    doc.save().font(face).transform(1, 0, 0, -1, 0, doc.page.height);
    const { _font: font } = doc as unknown as Internals;
    (doc.page.fonts as Record<string, unknown>)[font.id] ??= font.ref();
    doc.addContent(`BT /${font.id} ${size} Tf () Tj ET`).endMarkedContent();
    doc.restore();
  }

  rule(x: number, y: number, width: number, thickness: number, colour: Colour): void {
    const { doc } = this;
    doc.lineWidth(thickness).strokeColor(COLOURS[colour]);
    doc.moveTo(x, y).lineTo(x + width, y).stroke(); // prettier-ignore
  }

  /** An outline in the colour that is set; its drawing stands in the document once, however often it is used. */
  outline(key: string, path: string): void {
    const { doc } = this;
    let kept = this.#outlines.get(key);
    if (!kept) {
      kept = { name: `G${this.#outlines.size + 1}`, form: this.#form(path) };
      this.#outlines.set(key, kept);
    }
    (doc.page.xobjects as Record<string, unknown>)[kept.name] = kept.form;
    doc.addContent(`/${kept.name} Do`);
  }

  #form(path: string): PDFKit.PDFKitReference {
    const said: string[] = [];
    const pen = Object.create(this.doc, {
      addContent: {
        value(this: unknown, line: string) {
          said.push(line);
          return this;
        },
      },
    }) as PDFKit.PDFDocument;
    pen.path(path);
    // Outlines are drawn in units of a thousand to the em; none is larger than four.
    const BBox = [-4000, -4000, 4000, 4000];
    const form = this.doc.ref({ Type: 'XObject', Subtype: 'Form', BBox, Resources: {} });
    form.end(Buffer.from(`${said.join('\n')}\nf`));
    return form;
  }

  #run(text: string, { face }: Style): readonly Segment[] {
    const key = `${face} ${text}`;
    const kept = this.#segments.get(key);
    if (kept) return kept;
    const has = (each: Face, code: number): boolean =>
      this.#fonts.get(each)?.font.hasGlyphForCodePoint(code) ?? false;
    const run = segmentsOf(text, face, has, (sign) => this.missing.add(sign));
    this.#segments.set(key, run);
    return run;
  }

  #advance(segment: Segment, { size, capitals = false }: Style): number {
    if ('accidental' in segment) {
      const { advance = 0 } = ACCIDENTAL[segment.accidental] ?? {};
      return (size * advance) / 1000;
    }
    const { face, text } = segment;
    const small = capitals && face === 'serif';
    const key = `${face} ${small} ${text}`;
    const kept = this.#widths.get(key);
    if (kept !== undefined) return kept * size;
    const width =
      (this.#fonts.get(face)?.widthOfString(text, 1000, small ? CAPITALS : undefined) ?? 0) / 1000;
    this.#widths.set(key, width);
    return width * size;
  }

  #text(
    { face, text }: Extract<Segment, { readonly text: string }>,
    x: number,
    y: number,
    { size, colour = 'ink', capitals = false }: Style,
  ): void {
    if (text.trim() === '') return;
    const features = capitals && face === 'serif' ? { features: CAPITALS } : {};
    this.doc
      .font(face)
      .fontSize(size)
      .fillColor(COLOURS[colour])
      .text(text, x, y, {
        lineBreak: false,
        baseline: 'alphabetic',
        ...(features as PDFKit.Mixins.TextOptions),
      });
  }

  #accidental(sign: string, x: number, y: number, { size, colour = 'ink' }: Style): void {
    const { glyph, rise } = ACCIDENTAL[sign] ?? { glyph: '', rise: 0 };
    const path = CHORD_GLYPHS[glyph];
    if (path === undefined) return;
    const scale = (size * ACCIDENTAL_SCALE) / 1000;
    const { doc } = this;
    doc.save().fillColor(COLOURS[colour]);
    doc.transform(scale, 0, 0, -scale, x + size * 0.03, y - (size * rise) / 1000);
    this.outline(glyph, path);
    doc.restore();
  }
}
