import { Keys, Pitches, type Key } from '#music';
import { area } from 'd3-shape';

/** All lengths are units of the picture; on the screen about a CSS pixel each. */
export const SPACE = 9;
export const STEP = SPACE / 2;
/** Room above the top line: when it begins, what it is called, its key and lead. */
export const STAFF_TOP = 92;
export const STAFF_BOTTOM = STAFF_TOP + 4 * SPACE;
/** The middle of the hairpin, and how far it opens to each side. */
export const PIN_MIDDLE = STAFF_BOTTOM + 58;
const OPEN = 19;
export const SYSTEM = PIN_MIDDLE + OPEN + 26;
/** The clef, and what a line of the order takes at least, by what it is. */
export const CLEF = 44;
const LEAST = { song: 172, other: 100 } as const;
const PER_MINUTE = 11;
const SIGN = 10.5;

const FULLEST = 5;
const TOP_LINE = Pitches.requirePitch('F5').step;
/** Where the signs of a signature stand on a treble staff, in their order. */
const SHARPS = ['F5', 'C5', 'G5', 'D5', 'A4', 'E5', 'B4'] as const;
const FLATS = ['B4', 'E5', 'A4', 'D5', 'G4', 'C5', 'F4'] as const;

/** One line of the order. */
export interface StaffItem {
  readonly id: string;
  readonly title: string;
  readonly begins: string | null;
  readonly minutes: number | null;
  /** Of a song; null: it is none, or is not there. */
  readonly song: {
    readonly key: Key;
    /** Where it ends in another one. */
    readonly endKey: Key;
    readonly lead: string | null;
    /** 0 quiet to 5 full. */
    readonly fullness: number;
  } | null;
  /** How the music goes on to the next; empty: nothing is planned. */
  readonly way: string;
}

export interface DrawnSign {
  readonly x: number;
  readonly y: number;
  readonly sign: '♯' | '♭' | '♮';
}

export interface DrawnItem extends StaffItem {
  readonly x: number;
  readonly width: number;
  readonly signs: readonly DrawnSign[];
  readonly endSigns: readonly DrawnSign[];
}

export interface DrawnSystem {
  readonly width: number;
  readonly items: readonly DrawnItem[];
  /** The hairpin of its songs; empty: there are fewer than two. */
  readonly pin: string;
}

const yOf = (pitch: string): number => STAFF_TOP + (TOP_LINE - Pitches.requirePitch(pitch).step) * STEP; // prettier-ignore

/**
 * The signature as it is printed where another stood before: signs that stand no longer are cancelled first (common
 * practice). Each song has its own, also where nothing changes.
 * @param before null: nothing stood there
 */
export function signatureAt(x: number, key: Key, before: Key | null): DrawnSign[] {
  const [now, was] = [Keys.signatureOf(key), before ? Keys.signatureOf(before) : 0];
  const staying = Math.sign(now) === Math.sign(was) ? Math.abs(now) : 0;
  const places = (signature: number) => (signature > 0 ? SHARPS : FLATS);
  const gone =
    now === 0 || Math.sign(now) !== Math.sign(was) || staying < Math.abs(was)
      ? places(was).slice(staying, Math.abs(was))
      : [];
  const cancelled = gone.map((pitch) => ({ pitch, sign: '♮' as const }));
  const set = places(now)
    .slice(0, Math.abs(now))
    .map((pitch) => ({ pitch, sign: now > 0 ? ('♯' as const) : ('♭' as const) }));
  return [...cancelled, ...set].map(({ pitch, sign }, i) => ({
    x: x + i * SIGN,
    y: yOf(pitch),
    sign,
  }));
}

const widthOf = ({ song, minutes }: StaffItem): number =>
  Math.max(song ? LEAST.song : LEAST.other, (minutes ?? 3) * PER_MINUTE);

/**
 * The whole service as one long staff, broken where the page ends; wide items are cut to the page.
 * @param across how wide the page is; `Infinity`: it is not broken
 */
export function serviceStaff(items: readonly StaffItem[], across: number): DrawnSystem[] {
  const room = Math.max(LEAST.song, across - CLEF);
  const systems: StaffItem[][] = [];
  let taken = 0;
  for (const item of items) {
    const width = Math.min(room, widthOf(item));
    if (systems.length === 0 || taken + width > room) {
      systems.push([]);
      taken = 0;
    }
    systems.at(-1)?.push(item);
    taken += width;
  }
  let before: Key | null = null;
  return systems.map((own, n) => {
    const widths = own.map((item) => Math.min(room, widthOf(item)));
    const sum = widths.reduce((all, width) => all + width, 0);
    // A full system ends at the margin; the last one where it ends.
    const isFull = n < systems.length - 1 || sum > 0.8 * room;
    const stretch = isFull && Number.isFinite(room) ? room / sum : 1;
    let x = CLEF;
    const first = own.find(({ song }) => song)?.id;
    const drawn = own.map((item, i): DrawnItem => {
      const width = (widths[i] ?? 0) * stretch;
      const at = x;
      x += width;
      if (!item.song) return { ...item, x: at, width, signs: [], endSigns: [] };
      // At the start of a system nothing is cancelled.
      const signs = signatureAt(at + 14, item.song.key, item.id === first ? null : before);
      const ends = item.song.endKey;
      const changes = Keys.signatureOf(ends) !== Keys.signatureOf(item.song.key);
      const many = changes ? signatureAt(0, ends, item.song.key).length : 0;
      const endSigns = changes
        ? signatureAt(at + width - 12 - many * SIGN, ends, item.song.key)
        : [];
      before = ends;
      return { ...item, x: at, width, signs, endSigns };
    });
    return { width: x, items: drawn, pin: hairpin(drawn) };
  });
}

/** Two lines, as far apart as each song is full. */
function hairpin(items: readonly DrawnItem[]): string {
  const points = items.flatMap(({ song, x, width }) =>
    song ? [{ x: x + width / 2, open: 1 + (OPEN - 1) * (song.fullness / FULLEST) }] : [],
  );
  if (points.length < 2) return '';
  return (
    area<(typeof points)[number]>(
      ({ x }) => x,
      ({ open }) => PIN_MIDDLE + open,
      ({ open }) => PIN_MIDDLE - open,
    )(points) ?? ''
  );
}

const WORDS = ['quiet', 'rather quiet', 'growing', 'rather full', 'full', 'fullest'] as const;
/** How full a song is, in words: 0 to 5. */
export const sayFullness = (fullness: number): string =>
  WORDS[Math.round(Math.min(FULLEST, Math.max(0, fullness)))] ?? 'quiet';
