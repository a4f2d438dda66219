import { Keys, Pitches, type FitRow, type Key, type KeyFitTable } from '#music';

/** Half a staff space: from a line to the space beside it. All lengths are CSS pixels. */
export const STEP = 8;
const LOWEST_LINE = Pitches.requirePitch('E4').step;
const HIGHEST_LINE = Pitches.requirePitch('F5').step;
/** The line that the clef curls around. */
const G_LINE = Pitches.requirePitch('G4').step;
const OCTAVE = 7;
/** Room below the outermost note, and above it: the clef reaches above the staff. */
const MARGIN = 14;
const CLEF_ROOM = 24;

/** G clef of the font Leipzig (glyph U+E050, SIL OFL 1.1): 1000 units are the height of a staff. */
export const G_CLEF =
  'M441 -245c-23 -4 -48 -6 -76 -6c-59 0 -102 7 -130 20c-88 42 -150 93 -187 154c-26 44 -43 103 -48 176c0 6 -1 13 -1 19c0 54 15 111 45 170c29 57 65 106 110 148s96 85 153 127c-3 16 -8 46 -13 92c-4 43 -5 73 -5 89c0 117 16 172 69 257c34 54 64 82 89 82 c21 0 43 -30 69 -92s39 -115 41 -159v-15c0 -109 -21 -162 -67 -241c-13 -20 -63 -90 -98 -118c-13 -9 -25 -19 -37 -29l31 -181c8 1 18 2 28 2c58 0 102 -12 133 -35c59 -43 92 -104 98 -184c1 -7 1 -15 1 -22c0 -123 -87 -209 -181 -248c8 -57 17 -110 25 -162 c5 -31 6 -58 6 -80c0 -30 -5 -53 -14 -70c-35 -64 -88 -99 -158 -103c-5 0 -11 -1 -16 -1c-37 0 -72 10 -108 27c-50 24 -77 59 -80 105v11c0 29 7 55 20 76c18 28 45 42 79 44h6c49 0 93 -42 97 -87v-9c0 -51 -34 -86 -105 -106c17 -24 51 -36 102 -36c62 0 116 43 140 85 c9 16 13 41 13 74c0 20 -1 42 -5 67c-8 53 -18 106 -26 159zM461 939c-95 0 -135 -175 -135 -286c0 -24 2 -48 5 -71c50 39 92 82 127 128c40 53 60 100 60 140v8c-4 53 -22 81 -55 81h-2zM406 119l54 -326c73 25 110 78 110 161c0 7 0 15 -1 23c-7 95 -57 142 -151 142h-12 zM382 117c-72 -2 -128 -47 -128 -120v-7c2 -46 43 -99 75 -115c-3 -2 -7 -5 -10 -10c-70 33 -116 88 -123 172v11c0 68 44 126 88 159c23 17 49 29 78 36l-29 170c-21 -13 -52 -37 -92 -73c-50 -44 -86 -84 -109 -119c-45 -69 -67 -130 -67 -182v-13c5 -68 35 -127 93 -176 s125 -73 203 -73c25 0 50 3 75 9c-19 111 -36 221 -54 331z';

/** Time at one place of the staff. */
export interface Ink {
  readonly y: number;
  /** Share of the longest pitch's time, 0–1: the width of the ink. */
  readonly width: number;
  /** Outside the lead's comfortable range. */
  readonly hollow: boolean;
}

export interface StaffColumn {
  readonly key: Key;
  /** `F`, `B♭`. */
  readonly name: string;
  /** `F major`. */
  readonly fullName: string;
  readonly isWritten: boolean;
  /** In this key the lead sings an octave below, though not in the chosen one, where the bracket stands. */
  readonly isBelow: boolean;
  readonly ink: readonly Ink[];
  /** Heights of the ledger lines. */
  readonly ledgers: readonly number[];
  /** One for each voice. */
  readonly sentences: readonly string[];
}

export interface Bracket {
  readonly id: string;
  readonly initial: string;
  readonly name: string;
  /** `A3–D5`, sounding. */
  readonly range: string;
  /** `an octave below the tune`; empty where it is sung as written. */
  readonly octave: string;
  /** Drawn where the tune is written: a voice that sings an octave below stands an octave higher than it sounds. */
  readonly top: number;
  readonly bottom: number;
  readonly below: boolean;
  readonly isLead: boolean;
}

export interface DrawnStaff {
  readonly height: number;
  readonly lines: readonly number[];
  readonly clef: { readonly y: number; readonly scale: number };
  readonly columns: readonly StaffColumn[];
  readonly brackets: readonly Bracket[];
}

/**
 * The tune's time as ink, key by key, on a treble staff, with each voice's comfortable range beside it. The ranges
 * stand where the chosen key has the voices (a voice can be sung an octave below in one key and not in another).
 * @param lead id of the voice whose range decides what is hollow; missing or unknown: the first.
 */
export function drawStaff(table: KeyFitTable, chosen: Key, lead?: string): DrawnStaff {
  const leadId = table.voices.some(({ id }) => id === lead) ? lead : table.voices[0]?.id;
  const inKey = (key: Key): FitRow[] => table.rows.filter((row) => Keys.sameKey(row.key, key));
  const columns = table.keys.map((key) => ({ key, rows: inKey(key) }));
  const steps = columns.flatMap(({ rows }) => stepsOf(table, rows[0]));
  const chosenRows = inKey(chosen);
  const ranges = table.voices.map((voice) => {
    const row = chosenRows.find((each) => each.voice === voice.id);
    const below = row?.octave === 'octave below';
    const written = (name: string): number =>
      Pitches.requirePitch(name).step + (below ? OCTAVE : 0);
    const { low, high } = voice.comfortable;
    return { voice, row, below, low: written(low), high: written(high) };
  });
  // A range counts as far as the music comes near it; a very deep or high end would only make the picture small.
  const top = Math.max(HIGHEST_LINE, ...steps, ...ranges.map(({ high }) => Math.min(high, 42)));
  const bottom = Math.min(LOWEST_LINE, ...steps, ...ranges.map(({ low }) => Math.max(low, 22)));
  const room = Math.max(MARGIN, CLEF_ROOM - (top - HIGHEST_LINE) * STEP);
  const y = (step: number): number => room + (top - step) * STEP;
  const initials = initialsOf(table.voices.map(({ name }) => name));
  return {
    height: room + (top - bottom) * STEP + MARGIN,
    lines: [0, 2, 4, 6, 8].map((up) => y(LOWEST_LINE + up)),
    clef: { y: y(G_LINE), scale: (8 * STEP) / 1000 },
    columns: columns.map(({ key, rows }) => ({
      key,
      name: Keys.sayNote(key.tonic),
      fullName: Keys.sayKey(key),
      isWritten: Keys.sameKey(key, table.written),
      isBelow:
        octaveOf(rows, leadId) === 'octave below' &&
        octaveOf(chosenRows, leadId) !== 'octave below',
      ...inkOf(table, rows, leadId, y),
      sentences: rows.map(({ reason }) => reason),
    })),
    brackets: ranges.map(({ voice, row, below, low, high }, i) => ({
      id: voice.id,
      initial: initials[i] ?? '',
      name: voice.name,
      range: `${Keys.sayNote(voice.comfortable.low)}–${Keys.sayNote(voice.comfortable.high)}`,
      octave: octaveWords(row),
      top: y(Math.min(high, top)),
      bottom: y(Math.max(low, bottom)),
      below,
      isLead: voice.id === leadId,
    })),
  };
}

function octaveOf(
  rows: readonly FitRow[],
  voice: string | undefined,
): FitRow['octave'] | undefined {
  return rows.find((row) => row.voice === voice)?.octave;
}

function octaveWords(row: FitRow | undefined): string {
  if (row?.octave === 'octave below') return 'an octave below the tune';
  if (row?.octave !== 'free') return '';
  const below = row.perSection.filter(({ octave }) => octave === 'octave below');
  return `${below.map(({ name }) => `the ${name.toLowerCase()}`).join(' and ')} an octave below`;
}

/** The staff places of the tune in the key of a row, as written. */
function stepsOf(table: KeyFitTable, row: FitRow | undefined): number[] {
  const by = row?.interval.steps ?? 0;
  return (table.tessitura?.pitches ?? []).map(({ pitch }) => Pitches.requirePitch(pitch).step + by);
}

function inkOf(
  table: KeyFitTable,
  rows: readonly FitRow[],
  lead: string | undefined,
  y: (step: number) => number,
): { ink: Ink[]; ledgers: number[] } {
  const [first] = rows;
  const row = rows.find(({ voice }) => voice === lead);
  const outside = outsideOf(table, row);
  const places = new Map<number, { ticks: number; hollow: boolean }>();
  for (const { pitch, midi, ticks } of table.tessitura?.pitches ?? []) {
    const step = Pitches.requirePitch(pitch).step + (first?.interval.steps ?? 0);
    const place = places.get(step) ?? { ticks: 0, hollow: false };
    places.set(step, { ticks: place.ticks + ticks, hollow: place.hollow || outside.has(midi) });
  }
  const most = Math.max(1, ...[...places.values()].map(({ ticks }) => ticks));
  const ink = [...places].map(([step, { ticks, hollow }]) => ({
    y: y(step),
    width: ticks / most,
    hollow,
  }));
  const steps = [...places.keys()];
  const ledgers: number[] = [];
  for (let line = LOWEST_LINE - 2; line >= Math.min(...steps); line -= 2) ledgers.push(y(line));
  for (let line = HIGHEST_LINE + 2; line <= Math.max(...steps); line += 2) ledgers.push(y(line));
  return { ink, ledgers };
}

/** The written pitches (semitones) that a voice sings outside its comfortable range somewhere in this key. */
function outsideOf(table: KeyFitTable, row: FitRow | undefined): ReadonlySet<number> {
  const voice = table.voices.find(({ id }) => id === row?.voice);
  const found = new Set<number>();
  if (!row || !voice) return found;
  const [low, high] = [voice.comfortable.low, voice.comfortable.high].map(Pitches.midiOf);
  for (const section of table.tessitura?.sections ?? []) {
    const fit = row.perSection.find((each) => each.section === section.section);
    const by = row.interval.semitones - (fit?.octave === 'octave below' ? 12 : 0);
    for (const { midi } of section.pitches) {
      if (midi + by < (low ?? 0) || midi + by > (high ?? 127)) found.add(midi);
    }
  }
  return found;
}

/** A letter each, two where voices share it: `Ru`, `Ro`. An article counts for nothing: `the congregation` is C. */
export function initialsOf(names: readonly string[]): string[] {
  const bare = names.map((name) => name.replace(/^(the|a|an)\s+/i, '').trim() || name);
  const first = bare.map((name) => [...name][0]?.toUpperCase() ?? '');
  return bare.map((name, i) => {
    const shared = first.filter((letter) => letter === first[i]).length > 1;
    return shared ? first[i] + ([...name][1] ?? '').toLowerCase() : (first[i] ?? '');
  });
}

/** Which column an arrow, Home or End key leads to; null: not one of them. */
export function columnAfter(key: string, from: number, count: number): number | null {
  if (key === 'ArrowRight' || key === 'ArrowUp') return (from + 1) % count;
  if (key === 'ArrowLeft' || key === 'ArrowDown') return (from + count - 1) % count;
  if (key === 'Home') return 0;
  return key === 'End' ? count - 1 : null;
}

/** A finger's width (WCAG 2.2: 44 px), and the most that a column gains from a wide page. */
const NARROWEST = 44;
const WIDEST = 84;
/** The widest ink, from its middle. */
const RADIUS = 30;
const INSET = 6;
/** Width of the clef's piece of staff. */
export const CLEF_WIDTH = 46;

export interface StaffLayout {
  /** Width of a key's column. */
  readonly column: number;
  /** From the middle of a column to the end of its widest ink. */
  readonly radius: number;
  readonly bracket: number;
  /** Width of all brackets. */
  readonly side: number;
  /** How far the columns can be scrolled. */
  readonly hidden: number;
}

/** How a staff stands in a width. */
export function layOut({ columns, brackets }: DrawnStaff, width: number): StaffLayout {
  const bracket = width < 500 ? 24 : 34;
  const side = brackets.length * bracket + 8;
  const room = width - CLEF_WIDTH - side;
  const column = Math.min(WIDEST, Math.max(NARROWEST, room / Math.max(1, columns.length)));
  const radius = Math.min(RADIUS, column / 2 - INSET);
  return { column, radius, bracket, side, hidden: columns.length * column - room };
}

/** How far the ends of a staff fade where it goes on, 1.5 rem. */
export const FADE = 24;

/** What of a staff is in sight. CSS pixels. */
export interface StaffView {
  /** How far it is scrolled. */
  readonly left: number;
  /** How wide the window on it is. */
  readonly room: number;
  /** How wide all of it is. */
  readonly whole: number;
}

/** Where to scroll so that a column stands in full ink, clear of the fading ends; where it does already: stay. */
export function scrollTo(column: number, width: number, view: StaffView): number {
  const { left, room, whole } = view;
  const most = Math.max(0, whole - room);
  const clearLeft = left + (left > 2 ? FADE : 0);
  const clearRight = left + room - (left < most - 2 ? FADE : 0);
  if (column * width >= clearLeft && (column + 1) * width <= clearRight) return left;
  return Math.min(most, Math.max(0, (column + 0.5) * width - room / 2));
}

/** What the signs of a drawing mean, as far as it has them. */
export function legendOf({ columns, brackets }: DrawnStaff): string {
  const lead = brackets.find(({ isLead }) => isLead)?.name;
  const written = columns.find(({ isWritten }) => isWritten)?.name;
  const sentences = ['The wider the ink, the longer the tune stays there.'];
  if (lead && columns.some(({ ink }) => ink.some(({ hollow }) => hollow))) {
    sentences.push(`Hollow: outside what sits easily for ${lead}.`);
  }
  if (lead && columns.some(({ isBelow }) => isBelow)) {
    sentences.push(`8: ${lead} sings it an octave below there.`);
  }
  if (written) sentences.push(`Written in ${written} (dotted).`);
  return sentences.join(' ');
}
