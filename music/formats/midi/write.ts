import { tonesOf, write as writeChord } from '../../pitch/chord-symbol.ts';
import { signatureOf } from '../../pitch/key.ts';
import { midiOf, pitchClassOf } from '../../pitch/pitch.ts';
import { roundPickups } from '../../score/pickup-chords.ts';
import {
  QUARTER,
  type ChordAt,
  type Note,
  type Score,
  type Tempo,
  type Ticks,
  type Voice,
} from '../../score/score.ts';
import { inTempo, quartersPerMinute, withTempos } from '../../score/tempos.ts';
import { inForce, soundingNotes } from '../../score/time.ts';
import { SOFT } from '../soft.ts';
import { NO_CHORD } from './named-chords.ts';
import { DRUMS } from './parts.ts';
import {
  headChunk,
  joined,
  keyEvent,
  meterEvent,
  noteEvents,
  programEvent,
  tempoEvent,
  textEvent,
  trackChunk,
  type Event,
} from './write-bytes.ts';
import { pedalsOf } from './write-pedal.ts';
import { beatsOf, figuresOf, planOf, type Plan, type Played } from './write-plan.ts';

export interface MidiWriteOptions {
  /** `once` through as it is printed, without repeats (missing), or the whole `form` with repeats, endings and its verses. */
  readonly passes?: 'once' | 'form';
  /** Counted before the song, on the side stick. */
  readonly countIn?: boolean;
  /** A stroke on every felt beat, on wood blocks, the higher one on beat one. */
  readonly click?: boolean;
  /**
   * Of the start; the song's changes keep their ratio to it. Missing: the song's own; where that is not known none is
   * written, and programs take 120. null: none is written.
   */
  readonly tempo?: Tempo | null;
  /** Ids of the voices to write; missing: all. */
  readonly parts?: readonly string[];
  /** Sounds of General MIDI 1, counted from 0, by group of voices; missing: none are written. */
  readonly programs?: Readonly<Record<string, number>>;
}

/** Keys of the percussion of General MIDI 1. */
const SIDE_STICK = 37;
const HIGH_WOOD_BLOCK = 76;
const LOW_WOOD_BLOCK = 77;
const LOUD = { melody: 96, voice: 76, chords: 64, first: 110, beat: 84 } as const;

/** Ticks to a quarter, the usual ones first; the last is that of scores, which holds everything. */
const DIVISIONS = [480, 960, 1440, 3360, 6720, 10080, QUARTER];

export function writeSong(written: Score, options: MidiWriteOptions): Uint8Array {
  const isSilent = options.tempo === null;
  const score = isSilent ? withTempos(written, []) : inTempo(written, options.tempo ?? null);
  const plan = planOf(score, options.passes === 'form', options.countIn ?? false);
  const voices = score.voices.filter(({ id }) => !options.parts || options.parts.includes(id));
  const lines = voices.map((voice) => ({ voice, notes: lineOf(voice, plan.played) }));
  const chords = chordsOf(score.chords, plan.played);
  const division = divisionOf(
    plan,
    lines.map(({ notes }) => notes),
    chords,
  );
  const ticks = (moment: Ticks): number => Math.round((moment * division) / QUARTER);
  const tracks: Event[][] = [headTrack(score, plan, ticks)];
  const pedalOf = pedalsOf(lines, plan.played, ticks);
  lines.forEach(({ voice, notes }, i) => {
    const channel = channelOf(i);
    const program = options.programs?.[voice.group];
    const sound = program === undefined ? [] : [programEvent(channel, program)];
    const events = voiceTrack(score, voice, notes, channel, ticks);
    tracks.push([...sound, ...events, ...pedalOf(voice.group, channel)]);
  });
  if (chords.length > 0) {
    const sounding = voices.length > 1 ? [] : chordsOf(roundPickups(score), plan.played);
    tracks.push(chordTrack(chords, sounding, channelOf(voices.length), ticks));
  }
  if (options.countIn && plan.counts.length > 0) {
    const strokes = plan.counts.map((at) => ({ at, key: SIDE_STICK, loud: LOUD.beat }));
    tracks.push(drumTrack('Count-in', strokes, ticks));
  }
  if (options.click) {
    const lead = plan.played[0]?.at ?? 0;
    const strokes = beatsOf(plan)
      .filter(({ at }) => !options.countIn || at >= lead)
      .map(({ at, first }) => ({
        at,
        key: first ? HIGH_WOOD_BLOCK : LOW_WOOD_BLOCK,
        loud: first ? LOUD.first : LOUD.beat,
      }));
    tracks.push(drumTrack('Click', strokes, ticks));
  }
  const end = ticks(plan.end);
  return joined([
    headChunk(tracks.length, division),
    ...tracks.map((events) => trackChunk(events, end)),
  ]);
}

/** Sixteen channels without that of the drums, in turn. */
function channelOf(place: number): number {
  const channel = place % 15;
  return channel < DRUMS ? channel : channel + 1;
}

interface Line extends Note {
  readonly verse: number | null;
  /** The note begins here, not in a stretch before. */
  readonly begins: boolean;
}

/** A voice's notes on the time line of the file. */
function lineOf(voice: Voice, played: readonly Played[]): Line[] {
  const line: Line[] = [];
  played.forEach(({ from, to, at, verse }, i) => {
    const goesOn = played[i + 1]?.from === to;
    for (const note of voice.notes) {
      const start = Math.max(from, note.at);
      const end = Math.min(to, note.at + note.length);
      if (end <= start) continue;
      const { tie, ...rest } = note;
      const isCut = end < note.at + note.length;
      const held = end === to ? goesOn && (isCut || tie) : tie;
      const begins = start === note.at;
      line.push({
        ...rest,
        at: at + start - from,
        length: end - start,
        verse,
        begins,
        ...(held && { tie: true as const }),
      });
    }
  });
  return line;
}

function chordsOf(chords: readonly ChordAt[], played: readonly Played[]): ChordAt[] {
  return played.flatMap(({ from, to, at }) =>
    chords.flatMap((entry) => {
      const start = Math.max(from, entry.at);
      const end = Math.min(to, entry.at + entry.length);
      return end > start ? [{ ...entry, at: at + start - from, length: end - start }] : [];
    }),
  );
}

function divisionOf(
  plan: Plan,
  lines: readonly (readonly Line[])[],
  chords: readonly ChordAt[],
): number {
  const moments = new Set<Ticks>(plan.counts);
  for (const { at, length } of [...lines.flat(), ...chords, ...plan.bars])
    moments.add(at).add(at + length);
  for (const { at } of beatsOf(plan)) moments.add(at);
  for (const { at } of plan.tempos) moments.add(at);
  for (const { at } of plan.played.flatMap(({ marks }) => marks)) moments.add(at);
  const fits = (division: number): boolean => {
    const step = QUARTER / division;
    return [...moments].every((moment) => moment % step === 0);
  };
  return DIVISIONS.find(fits) ?? QUARTER;
}

type ToTicks = (moment: Ticks) => number;

/** What belongs to all voices. */
function headTrack(score: Score, plan: Plan, ticks: ToTicks): Event[] {
  const { title, rights } = score.facts;
  const events: Event[] = [];
  if (title !== '') events.push(textEvent(0, 'name', title));
  if (rights !== null) events.push(textEvent(0, 'copyright', rights));
  for (const { at, tempo } of plan.tempos) {
    if (!tempo) continue;
    const microseconds = Math.round(60_000_000 / quartersPerMinute(tempo));
    events.push(tempoEvent(ticks(at), Math.min(0xffffff, Math.max(1, microseconds))));
  }
  events.push(...meterEvents(plan, ticks));
  let key = '';
  plan.played.forEach(({ from, to, at, marks }, i) => {
    const start = i === 0 ? 0 : at;
    for (const entry of score.keys) {
      const isIn = entry === inForce(score.keys, from) || (entry.at > from && entry.at < to);
      if (!isIn) continue;
      const fifths = Math.max(-7, Math.min(7, entry.signature));
      const minor = entry.key.mode === 'minor' && signatureOf(entry.key) === fifths;
      const name = `${String(fifths)} ${String(minor)}`;
      if (name !== key)
        events.push(keyEvent(ticks(entry.at > from ? at + entry.at - from : start), fifths, minor));
      key = name;
    }
    for (const mark of marks) events.push(textEvent(ticks(mark.at), 'marker', mark.name));
  });
  return events;
}

/** A meter wherever bars change their length; a last bar that is short needs none. */
function meterEvents(plan: Plan, ticks: ToTicks): Event[] {
  const events: Event[] = [];
  let before = '';
  plan.bars.forEach((bar, i) => {
    const figures = figuresOf(bar);
    if (!figures) return;
    const { beats, unit } = figures;
    const name = `${String(beats)}/${String(unit)}`;
    const isLast = i > 0 && i === plan.bars.length - 1;
    const previous = plan.bars[i - 1];
    const isMetered = bar.meter.beats !== null && previous?.meter === bar.meter;
    const isShortEnd = isLast && isMetered && bar.length < previous.length;
    if (name !== before && !isShortEnd) {
      const compound = unit >= 8 && beats > 3 && beats % 3 === 0;
      events.push(
        meterEvent(ticks(bar.at), beats, unit, Math.max(1, (96 / unit) * (compound ? 3 : 1))),
      );
      before = name;
    }
  });
  return events;
}

function voiceTrack(
  score: Score,
  voice: Voice,
  notes: readonly Line[],
  channel: number,
  ticks: ToTicks,
): Event[] {
  const loud = voice.id === score.melody ? LOUD.melody : LOUD.voice;
  const soft = new Set(notes.filter((note) => note.soft).map(({ at }) => at));
  const events: Event[] = [textEvent(0, 'name', voice.name)];
  for (const { at, length, pitch } of soundingNotes({ ...voice, notes })) {
    const midi = midiOf(pitch);
    if (midi >= 0 && midi <= 127)
      events.push(
        ...noteEvents(
          channel,
          midi,
          soft.has(at) ? SOFT.velocity : loud,
          ticks(at),
          ticks(at + length),
        ),
      );
  }
  for (const { at, verse, begins, syllables } of notes) {
    const syllable = begins && verse !== null ? syllables?.[verse] : null;
    if (!syllable) continue;
    // RP-017: a space ends a word; without one it goes on.
    events.push(textEvent(ticks(at), 'lyric', syllable.text + (syllable.hyphen ? '' : ' ')));
  }
  return events;
}

/** Chord symbols as text, and held: the bass between C3 and B3, the others within the octave above G3. */
function chordTrack(
  symbols: readonly ChordAt[],
  sounding: readonly ChordAt[],
  channel: number,
  ticks: ToTicks,
): Event[] {
  const events: Event[] = [textEvent(0, 'name', 'Chords')];
  for (const { at, chord } of symbols) {
    events.push(textEvent(ticks(at), 'text', chord ? writeChord(chord) : NO_CHORD));
  }
  for (const { at, length, chord } of sounding) {
    if (!chord) continue;
    const tones = tonesOf(chord).map(pitchClassOf);
    const bass = chord.bass === null ? tones[0] : pitchClassOf(chord.bass);
    const keys = new Set(tones.map((tone) => 55 + ((tone - 7 + 12) % 12)));
    if (bass !== undefined) keys.add(48 + bass);
    for (const key of keys)
      events.push(...noteEvents(channel, key, LOUD.chords, ticks(at), ticks(at + length)));
  }
  return events;
}

function drumTrack(
  name: string,
  strokes: readonly { at: Ticks; key: number; loud: number }[],
  ticks: ToTicks,
): Event[] {
  const length = ticks(QUARTER / 4);
  return [
    textEvent(0, 'name', name),
    ...strokes.flatMap(({ at, key, loud }) =>
      noteEvents(DRUMS, key, loud, ticks(at), ticks(at) + length),
    ),
  ];
}
