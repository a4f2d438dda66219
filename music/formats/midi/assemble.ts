import { failure, success, type Problem, type Result } from '../../result.ts';
import {
  QUARTER,
  type ChordAt,
  type Score,
  type Ticks,
  type Verse,
  type Voice,
} from '../../score/score.ts';
import { foundSections, kindOf, usualForm, type SectionStart } from '../../score/sections.ts';
import { evenOut } from './even.ts';
import { factsOf } from './facts.ts';
import { frameOf, metersOf, MOST_BARS, type Frame } from './frame.ts';
import { keysOf, namedKeys, type NamedKey } from './keys.ts';
import { findMelody } from './melody.ts';
import { namedChords } from './named-chords.ts';
import { DRUMS, partsOf, tellLeftOut, ticksOf, type MidiPart, type PartNote } from './parts.ts';
import type { Smf } from './smf.ts';
import { temposOf } from './tempos.ts';
import { tuneId, voicesOf, type EvenPart } from './voices.ts';

/** Parts that one score holds; a band has sixteen. */
export const MOST_PARTS = 32;

/** A score from a file whose events are read. */
export function assemble(
  smf: Smf,
  melody: number | null,
  before: readonly Problem[],
): Result<Score> {
  const warnings: Problem[] = [...before];
  const { parts: all, drums } = partsOf(smf);
  const ticks = ticksOf(smf);
  tellLeftOut(drums, warnings);
  const chordTexts = chordTextsIn(smf, all);
  const ofSongs = all.filter((part) => part.texts !== chordTexts);
  const parts = ofSongs.slice(0, MOST_PARTS);
  if (parts.length < ofSongs.length) {
    const message = `Only the first ${String(MOST_PARTS)} of ${String(ofSongs.length)} parts are kept.`;
    warnings.push({ code: 'too-many-parts', message });
  }
  if (parts.length === 0) {
    const why = drums > 0 ? 'only drums' : 'no notes';
    return failure({ code: 'no-notes', message: `There are ${why} in this MIDI file.` }, ...before);
  }
  const wanted = parts.findIndex(({ index }) => index === melody);
  if (melody !== null && wanted < 0) {
    const message = `This file has no part ${String(melody + 1)}; it has ${String(all.length)}.`;
    return failure({ code: 'no-such-part', message });
  }
  const tune = wanted >= 0 ? wanted : findMelody(parts, warnings);
  const meters = metersOf(smf, warnings);
  const tick = QUARTER / smf.division;
  const played = parts.map((part) => evenOut(part, meters, tick, warnings));
  const frame = frameOf(meters, extentOf(smf, played, ticks), warnings);
  if (!frame) {
    const message = `The notes of this MIDI file are spread over more than ${String(MOST_BARS)} bars.`;
    return failure({ code: 'too-many-bars', message });
  }
  const keys = namedKeys(smf, frame.from, played.flat());
  const even = parts.map((part, i): EvenPart => ({
    part,
    notes: shift(played[i] ?? [], frame.from),
  }));
  const voices = voicesOf(smf, even, frame, keys, tune, warnings);
  const from = (moment: number): Ticks => ticks(moment) - frame.from;
  return success(
    scoreOf(smf, { voices, frame, keys, from, chordTexts, tune: tuneId(tune) }, warnings),
    warnings,
  );
}

/** The texts of the track that has chord symbols and at most their notes; null: there is none beside the song's own parts. */
function chordTextsIn(smf: Smf, parts: readonly MidiPart[]): MidiPart['texts'] | null {
  const ticks = ticksOf(smf);
  const track = smf.tracks.find(({ texts }) => namedChords(texts, ticks, Infinity) !== null);
  return track && parts.some(({ texts }) => texts !== track.texts) ? track.texts : null;
}

function shift(notes: readonly PartNote[], from: Ticks): PartNote[] {
  return notes.map(({ at, end, midi }) => ({ at: at - from, end: end - from, midi }));
}

function extentOf(
  smf: Smf,
  played: readonly (readonly PartNote[])[],
  ticks: (moment: number) => Ticks,
) {
  let [first, last] = [Infinity, 0];
  for (const notes of played) {
    for (const { at, end } of notes) {
      first = Math.min(first, at);
      last = Math.max(last, end);
    }
  }
  const strokes = smf.tracks.flatMap(({ notes }) =>
    notes.filter(({ channel }) => channel === DRUMS),
  );
  const drums = strokes.length === 0 ? null : ticks(Math.min(...strokes.map(({ at }) => at)));
  const end = ticks(Math.max(0, ...smf.tracks.map((track) => track.end)));
  return { first, last, end, drums };
}

interface Whole {
  readonly voices: readonly Voice[];
  readonly frame: Frame;
  readonly keys: readonly NamedKey[];
  /** A moment of the file on the time line of the song. */
  readonly from: (moment: number) => Ticks;
  readonly chordTexts: MidiPart['texts'] | null;
  readonly tune: string;
}

function scoreOf(smf: Smf, whole: Whole, warnings: Problem[]): Score {
  const { voices, frame, from, chordTexts, tune } = whole;
  const { bars } = frame;
  const last = bars.at(-1);
  const end = last ? last.at + last.length : 0;
  const sung = voices.some(({ notes }) => notes.some(({ syllables }) => syllables));
  const verses: Verse[] = sung ? [{ number: 1, label: '' }] : [];
  const melody = voices.find(({ id }) => id === tune) ?? voices[0];
  const { sections } = foundSections(
    markers(smf, from, end),
    melody?.notes ?? [],
    verses.length,
    end,
  );
  const chords: ChordAt[] = (chordTexts && namedChords(chordTexts, from, end)) ?? [];
  return {
    facts: factsOf(smf),
    ...temposOf(smf, frame, from, warnings),
    keys: keysOf(whole.keys, voices, warnings),
    meters: frame.meters,
    bars,
    voices,
    melody: melody?.id ?? tune,
    chords: chords.filter(({ at }) => at >= 0),
    sections,
    verses,
    form: usualForm(sections, verses),
    introduction: [],
  };
}

/** Markers, and texts that can only be headings, as the beginnings of sections. */
function markers(smf: Smf, from: (moment: number) => Ticks, end: Ticks): SectionStart[] {
  const starts = smf.tracks
    .flatMap(({ texts }) => texts)
    .filter(
      ({ kind, text }) =>
        kind === 'marker' || (kind === 'text' && text.length < 24 && kindOf(text) !== 'other'),
    )
    .map(({ at, text }): SectionStart => ({
      at: Math.max(0, from(at)),
      name: text.replace(/\p{Cc}/gu, ' ').trim(),
    }))
    .filter(({ at, name }) => at < end && name !== '')
    .sort((a, b) => a.at - b.at);
  return starts.filter(({ at }, i) => at !== starts[i - 1]?.at).slice(0, 200);
}
