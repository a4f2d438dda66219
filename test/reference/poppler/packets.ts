import { createHash } from 'node:crypto';
import { Parts, Sheets, WordsSheets, type Arrangement, type Score, type Syllable } from '#music';
import { bind } from '#server/render/packet/packet.ts';
import type { PacketPage } from '#server/render/packet/pages.ts';
import { engravedFor, type Paper, type Print } from '#server/render/packet/paper.ts';
import { createRenderer } from '#server/render/renderer.ts';
import { hymn } from '#test/support/hymn.ts';
import { readPdf } from '#test/support/read-pdf.ts';

/** A font as `pdffonts` lists it. */
export interface RecordedFont {
  /** With the six letters of a subset before it (ISO 32000-1, 9.6.4). */
  readonly name: string;
  readonly type: string;
  readonly isEmbedded: boolean;
  readonly isSubset: boolean;
  /** Its letters can be copied as text. */
  readonly hasUnicode: boolean;
}

export interface Recorded {
  readonly name: string;
  /** See `digestOf`. */
  readonly digest: string;
  readonly fonts: readonly RecordedFont[];
  /** Of each page, in points. */
  readonly sizes: readonly (readonly [width: number, height: number])[];
  /** What `pdftotext -layout` reads, line by line, runs of spaces as one. */
  readonly lines: readonly string[];
  /** Lines with a sharp or a flat, which is drawn: what `pdftotext -bbox` says of each, in points. */
  readonly accidentals: readonly { readonly text: string; readonly width: number; readonly height: number }[];
} // prettier-ignore

export interface Recording {
  /** `pdftotext version 22.12.0`. */
  readonly poppler: string;
  readonly packets: readonly Recorded[];
}

/** A packet that is recorded, and the words that it should say, in the order in which they are sung. */
export interface PacketCase {
  readonly name: string;
  readonly paper: Paper;
  readonly print: Print;
  readonly score: Score;
  readonly words: readonly string[];
}

const SONG = hymn('Silent_Night-Stille_Nacht.abc');

/** The beginning of the Lord's Prayer, Matthew 6:9–10, in old and common versions: letters, not translations, are looked at. */
const PRAYERS = {
  Greek: 'Πάτερ ἡμῶν ὁ ἐν τοῖς οὐρανοῖς· ἁγιασθήτω τὸ ὄνομά σου· ἐλθέτω ἡ βασιλεία σου',
  Cyrillic: 'Отче наш, Иже еси на небесех! да святится имя Твое, да приидет Царствие Твое',
  Vietnamese: 'Lạy Cha chúng con ở trên trời, chúng con nguyện danh Cha cả sáng, nước Cha trị đến',
} as const;

const melodyOf = ({ voices, melody }: Score) => voices.find(({ id }) => id === melody)?.notes ?? [];

/** The tune with other words: one to each syllable of its first verse, from the beginning again where they end. */
function withWords(score: Score, words: readonly Syllable[]): Score {
  let at = 0;
  const voices = score.voices.map((voice) => {
    const notes = voice.notes.map(({ syllables, ...note }) => {
      if (voice.id !== score.melody || !syllables?.[0]) return note;
      const syllable = words[at % words.length] ?? null;
      at += 1;
      return { ...note, syllables: [syllable] };
    });
    return { ...voice, notes };
  });
  const form = score.form.slice(0, 1);
  return { ...score, voices, form, verses: [{ number: 1, label: '1.' }] };
}

function packetCase(letters: keyof typeof PRAYERS | 'Latin', paper: Paper, print: Print): PacketCase {
  const own = melodyOf(SONG).flatMap(({ syllables }) => syllables?.[0] ?? []);
  const given = letters === 'Latin' ? own : PRAYERS[letters].split(' ').map((text) => ({ text }));
  const score = withWords(SONG, given);
  const words = melodyOf(score).flatMap(({ syllables }) => syllables?.[0]?.text ?? []);
  return { name: `${letters}, ${paper}, ${print} print`, paper, print, score, words };
} // prettier-ignore

export const CASES: readonly PacketCase[] = [
  packetCase('Latin', 'A4', 'usual'),
  packetCase('Latin', 'Letter', 'large'),
  packetCase('Greek', 'A4', 'usual'),
  packetCase('Greek', 'Letter', 'large'),
  packetCase('Cyrillic', 'Letter', 'usual'),
  packetCase('Vietnamese', 'A4', 'large'),
];

/** Each packet as people get it: a singer's sheet of notes, then the words with chords. */
export async function* packetsToRecord(): AsyncGenerator<[PacketCase, Uint8Array]> {
  const renderer = createRenderer();
  try {
    for (const each of CASES) yield [each, await boundFor(each, renderer)];
  } finally {
    await renderer.close();
  }
}

async function boundFor(
  { paper, print, score }: PacketCase,
  renderer: ReturnType<typeof createRenderer>,
): Promise<Uint8Array> {
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a hymn has a key');
  const arrangement: Arrangement = { key, tempo: null, density: 'half bar', form: null };
  const player = { id: 'r', name: 'Ruth', role: 'lead voice', level: 'beginner', reach: 12 } as const; // prettier-ignore
  const built = Parts.build(score, arrangement, player, { roles: ['lead voice'] });
  if (!built.ok) throw new Error(built.problems[0]?.message);
  const page = { ...engravedFor(paper, print), textScale: 1, verse: null };
  const engraved = await renderer.engrave(Sheets.request(built.value, page));
  const sheet = Sheets.of(built.value, player, page, engraved, built.warnings);
  const written = WordsSheets.of(score, arrangement, { name: 'Ruth', role: 'guitar' });
  if (!written.ok) throw new Error(written.problems[0]?.message);
  const { title } = score.facts;
  const pages: PacketPage[] = [
    { kind: 'staff', title, played: null, sheet },
    { kind: 'words', title, played: null, sheet: written.value },
  ];
  return bind({
    paper,
    print,
    name: 'Ruth',
    service: 'Morning service',
    date: 'Sunday, 29 November 2026',
    day: '2026-11-29',
    pages,
    before: [],
  });
}

/** Letters and figures alone: a line ends where the page wants it, syllables stand apart. */
const letters = (text: string): string => text.normalize('NFC').replace(/[^\p{L}\p{N}]/gu, '');

/** Those of the words, from the first on, that a text has one after another; others may stand between. */
export function inOrder(words: readonly string[], text: string): string[] {
  const all = letters(text);
  const found: string[] = [];
  let at = 0;
  for (const word of words) {
    const here = all.indexOf(letters(word), at);
    if (here < 0) break;
    found.push(word);
    at = here + letters(word).length;
  }
  return found;
}

/** A packet sings its words twice: under the notes, and with chords over them. */
export const sungIn = ({ words }: PacketCase): string[] => [...words, ...words];

/**
 * SHA-256 of what a PDF says to our own reader, wherever it stands there: how stretches with drawn accidentals end, the
 * sizes of its pages, its fonts, and its words in order. Where only the layout changes it stays the same.
 */
export function digestOf(each: PacketCase, bytes: Uint8Array): string {
  const { pages, fonts } = readPdf(bytes);
  const sizes = pages.map(({ width, height }) => `${Math.round(width)} ${Math.round(height)}`);
  const names = fonts.map(({ name, isEmbedded }) => `${name.replace(/^[A-Z]{6}\+/, '')} ${String(isEmbedded)}`); // prettier-ignore
  const text = pages.flatMap(({ texts }) => texts.map((part) => part.text)).join(' ');
  const endings = pages.flatMap((page) => page.endings);
  const said = [
    [...new Set(endings)],
    [...new Set(sizes)],
    [...new Set(names)].sort(),
    inOrder(sungIn(each), text),
  ];
  return createHash('sha256').update(JSON.stringify(said)).digest('hex');
}
