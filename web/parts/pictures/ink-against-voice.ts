import { scaleLinear } from 'd3-scale';
import { Keys, Pitches, QUARTER, type Bar, type NoteInVoice, type Range } from '#music';

/** Half a staff space. All lengths are CSS pixels. */
export const STEP = 5;
const LOWEST_LINE = Pitches.requirePitch('E4').step;
const HIGHEST_LINE = Pitches.requirePitch('F5').step;
const G_LINE = Pitches.requirePitch('G4').step;
const OCTAVE = 7;
const CLEF_WIDTH = 30;
const SIGN_WIDTH = 8;
/** Above the staff: bar numbers and the names of notes; below it names, and the end of the clef. */
const [HEADROOM, FOOTROOM] = [28, 24];
/** A quarter at least, and how far the last system is stretched. */
const [QUARTER_WIDTH, MOST_STRETCH] = [19, 1.25];
const NOTE_GAP = 3;
/** From the beginning of a name to that of the next. */
const NAME_WIDTH = 32;
const SHARPS = ['F5', 'C5', 'G5', 'D5', 'A4', 'E5', 'B4'].map(stepOf);
const FLATS = ['B4', 'E5', 'A4', 'D5', 'G4', 'C5', 'F4'].map(stepOf);
const SIGNS: Readonly<Record<number, string>> = { [-2]: '♭♭', [-1]: '♭', 0: '♮', 1: '♯', 2: '♯♯' };

function stepOf(pitch: string): number {
  return Pitches.requirePitch(pitch).step;
}

/** The tune of one verse as one voice sings it. */
export interface VersesInk {
  readonly notes: readonly NoteInVoice[];
  readonly bars: readonly Bar[];
  /** Sounding. */
  readonly comfortable: Range;
  /** Printed sharps (positive) or flats. */
  readonly signature: number;
  /** Where there are several: their names by id. */
  readonly sections?: Readonly<Record<string, string>>;
}

/** A note as a bar of ink: as long as it is held. */
export interface InkBar {
  readonly at: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly place: NoteInVoice['place'];
  /** `♯`; empty: none. */
  readonly sign: string;
  /** `D5`, at the furthest of several notes outside; empty: none. */
  readonly name: string;
  readonly ledgers: readonly number[];
  /** A breath follows. */
  readonly breath: boolean;
}

/** What sits easily, as far as one octave is sung. */
export interface Band {
  readonly x: number;
  readonly width: number;
  readonly top: number;
  readonly bottom: number;
  /** It is sung an octave below where it stands. */
  readonly below: boolean;
}

export interface InkBarLine {
  /** `9 refrain`: the bar, with the section that begins in it. */
  readonly label: string;
  readonly x: number;
  readonly end: number;
}

export interface InkSystem {
  readonly bars: readonly InkBarLine[];
  readonly notes: readonly InkBar[];
  readonly bands: readonly Band[];
  readonly end: number;
}

export interface DrawnVerse {
  readonly width: number;
  /** Of one system. */
  readonly height: number;
  readonly lines: readonly number[];
  readonly clef: number;
  readonly signature: readonly { readonly x: number; readonly y: number; readonly sign: string }[];
  readonly systems: readonly InkSystem[];
}

/** A note where it is printed: sung an octave below, it stands an octave above its sound. */
const printed = (pitch: string, below: boolean): number => stepOf(pitch) + (below ? OCTAVE : 0);
const isBelow = ({ octave }: Pick<NoteInVoice, 'octave'>): boolean => octave === 'octave below';

/** The tune on staves as wide as there is room, broken at bar lines, with the range of the voice as a band through them. */
export function drawVerse(verse: VersesInk, width: number): DrawnVerse {
  const { notes, comfortable, signature } = verse;
  const steps = notes.map((note) => printed(note.pitch, isBelow(note)));
  const ends = [...new Set(notes.map(isBelow))].flatMap((below) => [
    Math.max(printed(comfortable.low, below), LOWEST_LINE - 7),
    Math.min(printed(comfortable.high, below), HIGHEST_LINE + 7),
  ]);
  const top = Math.max(HIGHEST_LINE, ...steps, ...ends);
  const bottom = Math.min(LOWEST_LINE, ...steps, ...ends);
  const y = (step: number): number =>
    HEADROOM + (top - Math.min(top, Math.max(bottom, step))) * STEP;
  const start = CLEF_WIDTH + Math.abs(signature) * SIGN_WIDTH + 10;
  const broken = systemsOf(sungBars(verse), width - start);
  const keySteps = signature > 0 ? SHARPS : FLATS;
  return {
    width,
    height: y(bottom) + FOOTROOM,
    lines: [0, 2, 4, 6, 8].map((line) => y(LOWEST_LINE + line)),
    clef: y(G_LINE),
    signature: keySteps.slice(0, Math.abs(signature)).map((step, i) => ({
      x: CLEF_WIDTH + i * SIGN_WIDTH,
      y: y(step),
      sign: signature > 0 ? '♯' : '♭',
    })),
    systems: broken.map((bars, i) =>
      systemOf(bars, verse, { y, start, width, isLast: i === broken.length - 1 }),
    ),
  };
}

/** The bars in which something is sung. */
function sungBars({ bars, notes }: VersesInk): Bar[] {
  return bars.filter(({ at, length }) =>
    notes.some((note) => note.at < at + length && note.at + note.length > at),
  );
}

function systemsOf(bars: readonly Bar[], room: number): Bar[][] {
  const fits = (some: readonly Bar[]): boolean =>
    (lengthOf(some) / QUARTER) * QUARTER_WIDTH <= room;
  const systems: Bar[][] = [];
  for (const bar of bars) {
    const last = systems.at(-1);
    if (last && fits([...last, bar])) last.push(bar);
    else systems.push([bar]);
  }
  return systems;
}

const lengthOf = (bars: readonly Bar[]): number =>
  bars.reduce((sum, { length }) => sum + length, 0);

interface Placing {
  readonly y: (step: number) => number;
  readonly start: number;
  readonly width: number;
  readonly isLast: boolean;
}

function systemOf(
  bars: readonly Bar[],
  { notes, comfortable, signature, sections }: VersesInk,
  { y, start, width, isLast }: Placing,
): InkSystem {
  const natural = (lengthOf(bars) / QUARTER) * QUARTER_WIDTH;
  const full = width - start;
  const end = start + (isLast ? Math.min(full, natural * MOST_STRETCH) : full);
  // Bars that do not follow each other in the score stand side by side all the same.
  const offsets = new Map<Bar, number>();
  bars.reduce((sum, bar) => {
    offsets.set(bar, sum);
    return sum + bar.length;
  }, 0);
  const x = scaleLinear([0, lengthOf(bars)], [start, end]);
  const xOf = (bar: Bar, at: number): number => x((offsets.get(bar) ?? 0) + at - bar.at);
  const drawn: InkBar[] = [];
  const bands: Band[] = [];
  for (const bar of bars) {
    for (const [i, note] of notes.entries()) {
      const from = Math.max(note.at, bar.at);
      const to = Math.min(note.at + note.length, bar.at + bar.length);
      if (to <= from) continue;
      const held = note.at + note.length > bar.at + bar.length;
      const begins = note.at >= bar.at;
      const before = notes[i - 1];
      drawn.push({
        at: from,
        x: xOf(bar, from) + 1,
        width: Math.max(3, xOf(bar, to) - xOf(bar, from) - (held ? 1 : NOTE_GAP)),
        ...inked(note, begins ? before : note, { y, signature, begins }),
        breath: !held && breathAfter(note, notes[i + 1]),
      });
      const [left, right] = [xOf(bar, from), xOf(bar, to)];
      const below = isBelow(note);
      const last = bands.at(-1);
      if (last?.below === below) {
        bands[bands.length - 1] = { ...last, width: right - last.x };
      } else {
        const [high, low] = [printed(comfortable.high, below), printed(comfortable.low, below)];
        bands.push({ x: left, width: right - left, top: y(high) - STEP / 2, bottom: y(low) + STEP / 2, below }); // prettier-ignore
      }
    }
  }
  return {
    bars: bars.map((bar) => ({
      label: labelOf(bar, notes, sections ?? {}),
      x: xOf(bar, bar.at),
      end: xOf(bar, bar.at + bar.length),
    })),
    notes: named(drawn),
    bands,
    end,
  };
}

function labelOf(
  { number, at, length }: Bar,
  notes: readonly NoteInVoice[],
  names: Readonly<Record<string, string>>,
): string {
  const begins = notes.find(
    (note, i) =>
      i > 0 && note.section !== notes[i - 1]?.section && note.at >= at && note.at < at + length,
  );
  const name = begins ? (names[begins.section] ?? '') : '';
  return [number === 0 ? '' : String(number), name.toLowerCase()].filter((one) => one).join(' ');
}

const isOutside = ({ place }: Pick<NoteInVoice, 'place'>): boolean =>
  place === 'above' || place === 'below';

function inked(
  note: NoteInVoice,
  before: NoteInVoice | undefined,
  { y, signature, begins }: { y: Placing['y']; signature: number; begins: boolean },
): Pick<InkBar, 'y' | 'place' | 'sign' | 'name' | 'ledgers'> {
  const step = printed(note.pitch, isBelow(note));
  const { letter, alter } = Pitches.requirePitch(note.pitch);
  const ledgers: number[] = [];
  for (let line = LOWEST_LINE - 2; line >= step; line -= 2) ledgers.push(y(line));
  for (let line = HIGHEST_LINE + 2; line <= step; line += 2) ledgers.push(y(line));
  const again = before !== undefined && before.pitch === note.pitch;
  return {
    y: y(step),
    place: note.place,
    sign: begins && !again && alter !== Keys.alterIn(signature, letter) ? (SIGNS[alter] ?? '') : '',
    name: isOutside(note) ? Keys.sayNote(note.pitch) : '',
    ledgers,
  };
}

/** Of notes outside that follow each other only the furthest keeps its name, and only where there is room for it. */
function named(notes: readonly InkBar[]): InkBar[] {
  const further = (a: InkBar, b: InkBar): boolean => (a.place === 'above' ? a.y < b.y : a.y > b.y);
  const keep = new Set<InkBar>();
  let run: InkBar | null = null;
  let end = -Infinity;
  const close = (): void => {
    if (run && run.x >= end) {
      keep.add(run);
      end = run.x + NAME_WIDTH;
    }
    run = null;
  };
  for (const note of notes) {
    const isOut = isOutside(note);
    if (!isOut || (run && run.place !== note.place)) close();
    if (isOut && (!run || further(note, run))) run = note;
  }
  close();
  return notes.map((note) => (note.name === '' || keep.has(note) ? note : { ...note, name: '' }));
}

/** Between two notes that follow each other at once; a rest shows itself. */
function breathAfter(note: NoteInVoice, next: NoteInVoice | undefined): boolean {
  return next !== undefined && next.phrase !== note.phrase && next.at === note.at + note.length;
}

/** The outline of a note outside: pointed at both ends, so that it differs in black and white too. */
export function pointed({ x, y, width }: Pick<InkBar, 'x' | 'y' | 'width'>): string {
  const tip = Math.min(STEP, width / 2);
  const high = STEP * 0.9;
  return `M${x} ${y}L${x + tip} ${y - high}H${x + width - tip}L${x + width} ${y}L${x + width - tip} ${y + high}H${x + tip}Z`;
}
