import { constants, inflateSync } from 'node:zlib';

/**
 * A small reader of PDFs for tests: what ISO 32000-1 says of objects (7.3), packed streams (7.4.4), content streams (7.8),
 * text (9.4) and ToUnicode (9.10.3), and no more than our own documents need. It shares nothing with what writes them.
 */
export interface PdfText {
  readonly text: string;
  /** Points from the left and from the top of the page: where the first letter stands on its line. */
  readonly x: number;
  readonly y: number;
  /** Points. */
  readonly width: number;
  readonly size: number;
  readonly font: string;
}

export interface PdfLine {
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
}

export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly PdfText[];
  /** Straight lines that are drawn. */
  readonly lines: readonly PdfLine[];
  /** The operator before each end of marked content (14.6). */
  readonly endings: readonly string[];
}

export interface PdfFont {
  readonly name: string;
  readonly isEmbedded: boolean;
  readonly letters: ReadonlyMap<number, string>;
  /** Thousandths of the size. */
  readonly widths: ReadonlyMap<number, number>;
}

type Matrix = readonly [number, number, number, number, number, number];
const IDENTITY: Matrix = [1, 0, 0, 1, 0, 0];

function times(a: Matrix, b: Matrix): Matrix {
  return [
    a[0] * b[0] + a[1] * b[2],
    a[0] * b[1] + a[1] * b[3],
    a[2] * b[0] + a[3] * b[2],
    a[2] * b[1] + a[3] * b[3],
    a[4] * b[0] + a[5] * b[2] + b[4],
    a[4] * b[1] + a[5] * b[3] + b[5],
  ];
}

const point = (m: Matrix, x: number, y: number): [number, number] => [
  m[0] * x + m[2] * y + m[4],
  m[1] * x + m[3] * y + m[5],
];

function objectsOf(source: string): Map<string, string> {
  return new Map(
    [...source.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)].map(([, id = '', body = '']) => [id, body]),
  ); // prettier-ignore
}

function streamOf(body: string): string {
  const [, head = '', stream = ''] = /^([\s\S]*?)stream\r?\n([\s\S]*?)\r?\nendstream/.exec(body) ?? [];
  if (!head.includes('/FlateDecode')) return stream;
  // The last byte may be an end of line, which is taken for the one before `endstream`; it is of the checksum alone.
  const packed = Buffer.from(stream, 'latin1');
  return inflateSync(packed, { finishFlush: constants.Z_SYNC_FLUSH }).toString('latin1');
} // prettier-ignore

const refIn = (body: string, key: string): string | undefined => new RegExp(`/${key} \\[?(\\d+) 0 R`).exec(body)?.[1]; // prettier-ignore

function utf16(hex: string): string {
  const units = hex.replace(/\s/g, '').match(/.{4}/g) ?? [];
  return String.fromCharCode(...units.map((unit) => Number.parseInt(unit, 16)));
}

function fontOf(objects: ReadonlyMap<string, string>, id: string): PdfFont {
  const body = objects.get(id) ?? '';
  const below = objects.get(refIn(body, 'DescendantFonts') ?? '') ?? '';
  const descriptor = objects.get(refIn(below, 'FontDescriptor') ?? '') ?? '';
  const letters = new Map<number, string>();
  const map = streamOf(objects.get(refIn(body, 'ToUnicode') ?? '') ?? '');
  for (const [, first = '0', list = ''] of map.matchAll(/<(\w+)> <\w+> \[([^\]]*)\]/g)) {
    [...list.matchAll(/<([^>]*)>/g)].forEach(([, hex = ''], index) =>
      letters.set(Number.parseInt(first, 16) + index, utf16(hex)),
    );
  }
  const widths = new Map<number, number>();
  const [, list = ''] = /\/W \[0 \[([^\]]*)\]/.exec(below) ?? [];
  list.trim().split(/\s+/).forEach((width, index) => widths.set(index, Number(width))); // prettier-ignore
  const name = /\/BaseFont \/(\S+)/.exec(body)?.[1] ?? '';
  return { name, isEmbedded: refIn(descriptor, 'FontFile2') !== undefined, letters, widths };
}

class Reader {
  readonly texts: PdfText[] = [];
  readonly lines: PdfLine[] = [];
  readonly endings: string[] = [];
  readonly #fonts: ReadonlyMap<string, PdfFont>;
  readonly #height: number;
  #matrix: Matrix = IDENTITY;
  #stack: Matrix[] = [];
  #text: Matrix = IDENTITY;
  #font: PdfFont | undefined;
  #size = 0;
  #pen: [number, number] = [0, 0];

  constructor(fonts: ReadonlyMap<string, PdfFont>, height: number) {
    this.#fonts = fonts;
    this.#height = height;
  }

  read(content: string): void {
    let before = '';
    for (const line of content.split('\n')) {
      const parts = line.trim().split(/\s+/);
      const operator = parts.at(-1) ?? '';
      const n = parts.slice(0, -1).map(Number);
      const [a = 0, b = 0] = n;
      if (operator === 'q') this.#stack.push(this.#matrix);
      else if (operator === 'Q') this.#matrix = this.#stack.pop() ?? IDENTITY;
      else if (operator === 'cm') this.#matrix = times(n as unknown as Matrix, this.#matrix);
      else if (operator === 'Tm') this.#text = n as unknown as Matrix;
      else if (operator === 'Tf') {
        this.#font = this.#fonts.get((parts[0] ?? '').slice(1));
        this.#size = Number(parts[1]);
      } else if (operator === 'TJ') this.#show(line);
      else if (operator === 'm') this.#pen = [a, b];
      else if (operator === 'l') {
        this.lines.push({ from: this.#place(...this.#pen), to: this.#place(a, b) });
        this.#pen = [a, b];
      } else if (operator === 'EMC') this.endings.push(before);
      before = operator;
    }
  }

  #place(x: number, y: number, matrix = this.#matrix): [number, number] {
    const [left, up] = point(matrix, x, y);
    return [left, this.#height - up];
  }

  #show(line: string): void {
    const font = this.#font;
    if (!font) throw new Error('text without a font');
    let [text, width] = ['', 0];
    for (const [, hex, kern] of line.matchAll(/<(\w*)>|(-?[\d.]+)(?=[\s\]])/g)) {
      if (hex === undefined) width -= Number(kern);
      for (const code of hex?.match(/.{4}/g) ?? []) {
        const glyph = Number.parseInt(code, 16);
        text += font.letters.get(glyph) ?? '\ufffd';
        width += font.widths.get(glyph) ?? 0;
      }
    }
    const whole = times(this.#text, this.#matrix);
    const [x, y] = this.#place(0, 0, whole);
    const scale = Math.hypot(whole[0], whole[1]);
    const size = this.#size * scale;
    this.texts.push({ text, x, y, width: (width / 1000) * size, size, font: font.name });
  }
}

/** The pages of a document in order, and its fonts. */
export function readPdf(bytes: Uint8Array): { pages: PdfPage[]; fonts: PdfFont[] } {
  const objects = objectsOf(Buffer.from(bytes).toString('latin1'));
  const kids = [...objects.values()].find((body) => /\/Type \/Pages\b/.test(body)) ?? '';
  const ids = [...(/\/Kids \[([^\]]*)\]/.exec(kids)?.[1] ?? '').matchAll(/(\d+) 0 R/g)];
  const fonts = new Map<string, PdfFont>();
  const pages = ids.map(([, id = '']): PdfPage => {
    const page = objects.get(id) ?? '';
    const [, width = '', height = ''] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(page) ?? [];
    const resources = objects.get(refIn(page, 'Resources') ?? '') ?? page;
    const [, named = ''] = /\/Font <<([\s\S]*?)>>/.exec(resources) ?? [];
    const own = [...named.matchAll(/\/(\w+) (\d+) 0 R/g)].map(([, name = '', font = '']) => {
      if (!fonts.has(font)) fonts.set(font, fontOf(objects, font));
      return [name, fonts.get(font) as PdfFont] as const;
    });
    const reader = new Reader(new Map(own), Number(height));
    reader.read(streamOf(objects.get(refIn(page, 'Contents') ?? '') ?? ''));
    return {
      width: Number(width),
      height: Number(height),
      texts: reader.texts,
      lines: reader.lines,
      endings: reader.endings,
    };
  });
  return { pages, fonts: [...fonts.values()] };
}
