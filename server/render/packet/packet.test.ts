import { afterAll, describe, expect, it } from 'vitest';
import type { Role, Score } from '#music';
import { hymn as hymnFile } from '#test/support/hymn.ts';
import {
  madePage,
  packetRequest as request,
  stavesOf,
  wordsPage,
  type Layout,
} from '#test/support/packets.ts';
import { readPdf, type PdfPage, type PdfText } from '#test/support/read-pdf.ts';
import { createRenderer } from '../renderer.ts';
import { bind } from './packet.ts';
import type { PacketPage, PacketRequest } from './pages.ts';
import { engravedFor } from './paper.ts';

const hymn = (name: string): Score => hymnFile(`${name}.abc`);
const renderer = createRenderer();
afterAll(() => renderer.close());
const staffPage = (score: Score, role: Role, layout: Layout = {}) =>
  madePage(renderer, score, role, layout);

/** Points of one millimetre: 72 to the inch of 25.4 mm. */
const MM = 72 / 25.4;

const bound = async (pages: readonly PacketPage[], facts: Partial<PacketRequest> = {}) =>
  readPdf(await bind(request(pages, facts)));

/** Letters and figures alone: accidentals are drawn, lines and syllables are cut where the page wants it. */
const letters = (text: string): string => text.normalize('NFC').replace(/[^\p{L}\p{N}]/gu, '');
const textOf = (pages: readonly PdfPage[]): string =>
  pages.flatMap(({ texts }) => texts.map(({ text }) => text)).join(' ');

/** Texts that stand on each other; letters without what hangs below the line. */
function touching({ texts }: PdfPage): string[] {
  const boxes = texts.map((each) => ({ ...each, top: each.y - 0.6 * each.size, bottom: each.y }));
  const found: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (across > 0.5 && down > 0.5) found.push(`“${a.text}” and “${b.text}”`);
    }
  });
  return found;
}

/** Figures of fingers that a stem runs into: upright lines that are no bar lines, which end at staff lines. */
function onStems({ texts, lines }: PdfPage): string[] {
  const level = lines.filter(({ from, to }) => from[1] === to[1]).map(({ from }) => from[1]);
  const ends = (y: number) => level.some((each) => Math.abs(each - y) < 0.2);
  const stems = lines
    .filter(({ from, to }) => from[0] === to[0] && !(ends(from[1]) && ends(to[1])))
    .map(({ from, to }) => ({ x: from[0], top: Math.min(from[1], to[1]), bottom: Math.max(from[1], to[1]) })); // prettier-ignore
  const fingers = texts.filter(({ text, font }) => /^[1-5]$/.test(text) && font.includes('Italic'));
  return fingers.flatMap(({ text, x, y, width, size }) => {
    const hit = stems.some((stem) => stem.x > x - 1 && stem.x < x + width + 1 && stem.bottom > y - 0.62 * size && stem.top < y); // prettier-ignore
    return hit ? [`${text} at ${x.toFixed(1)}, ${y.toFixed(1)}`] : [];
  });
}

const ends = ({ x, width }: PdfText): number => x + width;

const HYMNS = ['Silent_Night-Stille_Nacht', 'Be_Thou_My_Vision-Slane', 'Abide_With_Me-Eventide'];
const LAYOUTS = (['A4', 'Letter'] as const).flatMap((paper) =>
  (['usual', 'large'] as const).map((print) => ({ paper, print })),
);

describe('A packet on paper', () => {
  it.each(LAYOUTS)('has pages of $paper in $print print, and nothing in their margins', async (layout) => {
    for (const name of HYMNS) {
      const score = hymn(name);
      const keys = await staffPage(score, 'keys', layout);
      const { pages } = await bound([keys, wordsPage(score)], layout);
      // ISO 216 and ANSI/ASME Y14.1.
      const [width, height] = layout.paper === 'A4' ? [210 * MM, 297 * MM] : [8.5 * 72, 11 * 72];
      for (const page of pages) {
        expect([page.width, page.height].map(Math.round)).toEqual([width, height].map(Math.round));
        for (const each of page.texts) {
          expect(each.x, each.text).toBeGreaterThan(8 * MM);
          expect(ends(each), each.text).toBeLessThan(width - 13.9 * MM);
          expect(each.y, each.text).toBeGreaterThan(8 * MM);
          expect(each.y, each.text).toBeLessThan(height - 8 * MM);
        }
        expect(touching(page), `${name}, ${layout.paper}, ${layout.print}`).toEqual([]);
        expect(onStems(page), `${name}, ${layout.paper}, ${layout.print}`).toEqual([]);
      }
    }
  }); // prettier-ignore

  it.each(['A4', 'Letter'] as const)('has staves of 7.5 to 8.5 mm on %s', async (paper) => {
    const score = hymn('Silent_Night-Stille_Nacht');
    const page = await staffPage(score, 'keys', { paper });
    const staves = (await bound([page], { paper })).pages
      .flatMap(stavesOf)
      .map(({ height }) => height);
    expect(staves.length).toBeGreaterThan(3 * 4);
    for (const each of staves) {
      expect(each / MM).toBeGreaterThan(7.5);
      expect(each / MM).toBeLessThan(8.5);
    }
  });

  it('is laid out anew in large print: higher staves, larger words, fewer bars a line', async () => {
    const score = hymn('Abide_With_Me-Eventide');
    const [usual, large] = [
      await staffPage(score, 'keys'),
      await staffPage(score, 'keys', { print: 'large' }),
    ];
    expect(large.sheet.systems.length).toBeGreaterThan(usual.sheet.systems.length);
    const { pages } = await bound([large], { print: 'large' });
    for (const { height } of pages.flatMap(stavesOf)) expect(height / MM).toBeGreaterThan(10);
    const word = pages.flatMap(({ texts }) => texts).find(({ text }) => text === 'bide');
    expect(word?.size).toBeGreaterThan(18);
  });

  it('numbers its pages through, and heads each with what, whose and when', async () => {
    const score = hymn('Silent_Night-Stille_Nacht');
    const { pages } = await bound([await staffPage(score, 'keys'), wordsPage(score)]);
    pages.forEach((page, index) => {
      const said = textOf([page]);
      expect(said).toContain(`${index + 1} of ${pages.length}`);
      expect(said).toContain('Ines');
      expect(said).toContain('Sunday, 29 November 2026');
      expect(letters(said)).toContain(letters(score.facts.credits.join(' ')));
    });
  });

  it('is the same bytes for the same request', async () => {
    const page = wordsPage(hymn('Silent_Night-Stille_Nacht'));
    const [one, two] = [await bind(request([page])), await bind(request([page]))];
    expect(Buffer.compare(one, two)).toBe(0);
  });

  it('says so where nothing is planned', async () => {
    const { pages } = await bound([]);
    expect(textOf(pages)).toContain('Nothing is planned yet for Morning service');
  });
});

describe('What stands on the screen’s sheet', () => {
  it.each(HYMNS)('stands on paper: %s', async (name) => {
    const page = await staffPage(hymn(name), 'keys');
    const { sheet } = page;
    const said = letters(textOf((await bound([page])).pages));
    const { title, rubric, key, countIn } = sheet.heading;
    const expected = [
      ...[title, rubric, key, countIn, sheet.order, sheet.introduction, sheet.summary],
      ...sheet.practice,
      ...sheet.remarks,
      ...sheet.cautions,
      ...sheet.systems.flatMap(({ margin, strip }) => [
        ...(margin ? [margin.section.toLocaleLowerCase(), ...margin.directions] : []),
        ...strip.flatMap(({ chord, words }) => [chord, words]),
      ]),
      ...sheet.words.flatMap(({ lines }) => lines),
    ];
    for (const each of expected) expect(said, each).toContain(letters(each));
  });

  it('has the words of the hymn in the order in which they are sung', async () => {
    const score = hymn('Silent_Night-Stille_Nacht');
    const { pages } = await bound([await staffPage(score, 'lead voice')]);
    const melody = score.voices.find(({ id }) => id === score.melody);
    const sung = (melody?.notes ?? []).flatMap(({ syllables }) => syllables?.[0]?.text ?? []);
    expect(sung.length).toBeGreaterThan(40);
    const { words = NaN } = engravedFor('A4', 'usual').paper ?? {};
    // A sheet that is set tighter is as much smaller as its staves may be: 2 %.
    const isSung = ({ font, size }: PdfText) =>
      /Serif/.test(font) && !/Italic/.test(font) && Math.abs(size / (words * 0.75) - 0.99) < 0.011;
    const set = pages.flatMap(({ texts }) => texts.filter(isSung));
    expect(set.map(({ text }) => letters(text)).join('')).toBe(letters(sung.join('')));
  });

  it('has the number of each line’s first bar, and a hyphen in each word that is cut', async () => {
    const page = await staffPage(hymn('Be_Thou_My_Vision-Slane'), 'lead voice');
    const { pages } = await bound([page]);
    const numbers = pages.flatMap(({ texts }) => texts.map(({ text }) => text));
    for (const { bars } of page.sheet.systems.slice(1)) expect(numbers).toContain(String(bars[0]));
    const whole = page.sheet.systems.map(({ svg }) => svg).join('');
    expect(whole.match(/<rect/g)?.length).toBeGreaterThan(5);
  });

  it('has each chord over the letter it stands over', async () => {
    const page = wordsPage(hymn('Amazing_Grace-New_Britain'));
    const { pages } = await bound([page]);
    const verse = page.sheet.passes.find(({ name }) => name === 'Verse 1');
    const pieces = verse?.lines[0]?.pieces ?? [];
    const texts = pages.flatMap((each) => each.texts);
    const from = texts.findIndex(({ text }) => text === 'verse 1');
    const own = texts.slice(from);
    let checked = 0;
    for (const { chord, text } of pieces) {
      const [word] = text.trim().split(' ');
      if (!chord || chord.again || !word) continue;
      const over = own.find((each) => each.text === chord.name);
      const under = own.find((each) => each.text.replace(/-$/, '') === word);
      expect(under?.x, `${chord.name} over ${word}`).toBeCloseTo(over?.x ?? NaN, 3);
      expect((under?.y ?? 0) - (over?.y ?? 0)).toBeGreaterThan(8);
      checked += 1;
      own.splice(0, own.findIndex((each) => each === under) + 1);
    }
    expect(checked).toBeGreaterThan(1);
  });
});

describe('Letters', () => {
  /** First lines of hymns in the public domain, in their own letters. */
  const LINES = [
    ['Greek', 'Φῶς ἱλαρὸν ἁγίας δόξης'],
    ['Greek without breathings', 'Φως ιλαρόν αγίας δόξης'],
    ['Cyrillic', 'Тихая ночь, дивная ночь! Ђурђевак, їжак'],
    ['Vietnamese', 'Đêm thánh vô cùng, giây phút tưng bừng, ngưỡng vọng'],
    ['Vietnamese in parts', 'Đêm thánh vô cùng, ngưỡng vọng'.normalize('NFD')],
    ['Latin', 'Žofie, Łukasz, Þórr, ĉiam, œuvre, Straße'],
  ] as const;

  it.each(LINES)('of %s stand on the page and can be selected, in fonts that are embedded', async (_, line) => {
    const { pages, fonts } = await bound([{ kind: 'none', title: line, reason: line }]);
    const said = pages.flatMap(({ texts }) => texts.map(({ text }) => text)).join('');
    expect(said.replace(/\s/g, '')).toContain(line.normalize('NFC').replace(/\s/g, ''));
    expect(fonts.length).toBeGreaterThan(0);
    for (const { name, isEmbedded } of fonts) {
      expect(isEmbedded, name).toBe(true);
      // A subset is named so (ISO 32000-1, 9.6.4).
      expect(name).toMatch(/^[A-Z]{6}\+Source/);
    }
    expect(said).not.toContain('□');
  }); // prettier-ignore

  it('that no face has are boxes, and the page says which', async () => {
    const score = hymn('Silent_Night-Stille_Nacht');
    const page = wordsPage({ ...score, facts: { ...score.facts, title: '平安夜' } });
    const { pages } = await bound([page]);
    const said = textOf(pages);
    expect(said).toContain('□□□');
    expect(letters(said)).toContain(letters('3 signs of this sheet cannot be set in the letters that this packet is printed in (U+5E73, U+5B89, U+591C)')); // prettier-ignore
  });

  it('of a chord are copied with the accidental that is drawn', async () => {
    const written = JSON.stringify(wordsPage(hymn('Silent_Night-Stille_Nacht')));
    const page = JSON.parse(written.replaceAll(/"name":"[A-G]"/g, '"name":"E♭7/B♭"')) as PacketPage;
    const bytes = await bind(request([page]));
    // UTF-16BE with its mark, as a PDF has text outside of ASCII (ISO 32000-1, 7.9.2.2).
    const actual = Buffer.from('\ufeffE♭7/B♭', 'utf16le').swap16().toString('latin1');
    expect(Buffer.from(bytes).toString('latin1')).toContain(actual);
  }); // prettier-ignore
});
