import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  CASES,
  digestOf,
  inOrder,
  packetsToRecord,
  sungIn,
  type Recording,
} from './poppler/packets.ts';

const file = new URL('poppler/recording.json', import.meta.url);
const recording = JSON.parse(readFileSync(file, 'utf8')) as Recording;
const recorded = new Map(recording.packets.map((each) => [each.name, each]));

const AGAIN = 'record again, where poppler is installed: npx tsx test/reference/poppler/record.ts';

function recordOf(name: string) {
  const found = recorded.get(name);
  if (!found) throw new Error(`${name} is not recorded; ${AGAIN}`);
  return found;
}

/** In points of 1/72 in: 210 × 297 mm (ISO 216), 8.5 × 11 in (ANSI/ASME Y14.1). */
const PAPER = { A4: [595.28, 841.89], Letter: [612, 792] } as const;
const NEAR = 0.5;

/**
 * An outside reader: poppler's pdffonts, pdfinfo and pdftotext (version in the recording) read packets in four alphabets, on
 * A4 and Letter, in usual and large print.
 */
describe(`Packets as ${recording.poppler} reads them`, () => {
  it.each(CASES)('$name: every font is embedded, cut to its letters, and can be copied', ({ name }) => {
    const { fonts } = recordOf(name);
    expect(fonts.length).toBeGreaterThan(1);
    for (const font of fonts) {
      expect(font, name).toMatchObject({ isEmbedded: true, isSubset: true, hasUnicode: true });
      expect(font.type).toBe('CID TrueType');
      // ISO 32000-1, 9.6.4: six capitals and a plus sign.
      expect(font.name).toMatch(/^[A-Z]{6}\+Source(Serif4|Sans3)/);
    }
  }); // prettier-ignore

  it.each(CASES)('$name: every page is of its paper', ({ name, paper }) => {
    const { sizes } = recordOf(name);
    expect(sizes.length).toBeGreaterThan(1);
    for (const [width, height] of sizes) {
      expect(Math.abs(width - PAPER[paper][0])).toBeLessThanOrEqual(NEAR);
      expect(Math.abs(height - PAPER[paper][1])).toBeLessThanOrEqual(NEAR);
    }
  });

  it.each(CASES)('$name: the words can be selected in the order in which they are sung', (each) => {
    const { lines } = recordOf(each.name);
    expect(each.words.length).toBeGreaterThan(40);
    expect(inOrder(sungIn(each), lines.join(' '))).toEqual(sungIn(each));
    expect(lines.join('')).not.toContain('\ufffd');
  });

  it.each(CASES)('$name: flats, which are drawn, can be selected with their notes where they stand', ({ name, words }) => {
    const { accidentals, lines } = recordOf(name);
    expect(accidentals.length).toBeGreaterThan(5);
    for (const { text, width, height } of accidentals) {
      // Two signs of ten points and more are wider and higher than these.
      expect(width, text).toBeGreaterThan(4);
      expect(height, text).toBeGreaterThan(8);
    }
    const three = words.slice(0, 3);
    const begins = lines.findIndex((line) => inOrder(three, line).length === three.length);
    const key = lines.findIndex((line) => line.includes('B♭ major'));
    expect(key).toBeGreaterThan(-1);
    expect(key).toBeLessThan(begins);
    // Over the words, not after them all: the last line of chords has one more line below it.
    const sung = lines.findLastIndex((line) => inOrder(words.slice(-1), line).length > 0);
    expect(lines.findLastIndex((line) => /^[(A-G♭♯m7) ]+$/.test(line) && line.includes('♭'))).toBeLessThan(sung);
  }); // prettier-ignore

  it('are the packets that are made today', async () => {
    const changed: string[] = [];
    for await (const [each, bytes] of packetsToRecord())
      if (recorded.get(each.name)?.digest !== digestOf(each, bytes)) changed.push(each.name);
    expect(
      changed,
      `The packets of today say other words, or have other fonts or pages, than those that poppler read; ${AGAIN}`,
    ).toEqual([]);
    expect(recording.packets).toHaveLength(CASES.length);
  });
});
