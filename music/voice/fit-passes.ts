import type { Interval } from '../pitch/interval.ts';
import type { Key } from '../pitch/key.ts';
import type { ArrangedPass } from '../parts/arrangement.ts';
import { raisedKey, upOf } from '../parts/form/keys-of-form.ts';
import { passesOf, type NamedPass } from '../score/form.ts';
import type { Score } from '../score/score.ts';
import { interval as intervalTo } from '../score/transpose.ts';
import { raisedFrom } from './fit-form.ts';
import { isOutside, sayChange, sayVoice, type ChangeTold } from './fit-pass-words.ts';
import type { Fit, KeyFitOptions } from './fit-row.ts';
import { betterOctave, fitOf, place, placeAll, readingOf } from './fit-section.ts';
import { boundsOf, count, figuresOf, type Bounds, type Counted, type Placed } from './placed.ts';
import type { Octave, Singer } from './range.ts';
import { sungSections } from './sung.ts';

/** How one pass lies in one voice. */
export interface VoiceInPass extends Fit {
  /** Id of the singer. */
  readonly voice: string;
  readonly name: string;
  readonly octave: Octave;
}

/** One time through a section that is sung, in the key it stands in. */
export interface PassFit {
  /** Index in the form, passes through sections that are gone not counted. */
  readonly index: number;
  /** `Verse 4`. */
  readonly name: string;
  readonly section: string;
  readonly up: number;
  readonly key: Key;
  /** Voice by voice, as they were given. */
  readonly voices: readonly VoiceInPass[];
}

/** One voice from a change of key on. */
export interface VoiceAtChange {
  /** Id of the singer. */
  readonly voice: string;
  /** `the top is D5 for Ada, in bar 12, …` */
  readonly words: string;
  readonly isOutside: boolean;
}

/** Where the key changes from one pass to the next. */
export interface KeyChange {
  /** Index in the form of the first pass in the new key. */
  readonly index: number;
  readonly key: Key;
  /** From the pass before; from the arrangement’s key where the first pass stands in another. */
  readonly interval: Interval;
  /** `From verse 4, up a whole step, in A major` */
  readonly opening: string;
  /** What it does to each voice until the next change. */
  readonly voices: readonly VoiceAtChange[];
}

export interface PassesFit {
  /** In the order they are sung; empty where no tune is written. */
  readonly passes: readonly PassFit[];
  readonly changes: readonly KeyChange[];
}

export interface PassesOptions extends Pick<KeyFitOptions, 'octaves' | 'voice'> {
  /** Of the arrangement; missing or null: as the song has it. */
  readonly form?: readonly ArrangedPass[] | null;
}

interface PlacedVoice {
  readonly singer: Singer;
  readonly bounds: Bounds;
  /** The octave of each section in the arrangement’s key, by its id. */
  readonly octaves: ReadonlyMap<string, Octave>;
}

/**
 * How each pass of an arrangement lies in each voice, where some stand half steps above or below its key. Who keeps one
 * octave keeps it when the key changes; who is free takes in each pass the better one.
 * @param key of the arrangement
 */
export function passes(
  score: Score,
  singers: readonly Singer[],
  key: Key,
  options: PassesOptions = {},
): PassesFit {
  const written = score.keys[0]?.key;
  if (!written) throw new RangeError('a score has a key at its start');
  const home = intervalTo(written, key);
  const sections = new Map(
    sungSections(score, options.voice).map((each) => [each.id, count(each)]),
  );
  const voices = singers.map((singer) => voiceOf(singer, [...sections.values()], home, options));
  const form = (options.form ?? score.form).filter((pass) =>
    score.sections.some(({ id }) => id === pass.section),
  );
  const sung = passesOf({ ...score, form }).flatMap((named, index) => {
    const section = sections.get(named.section.id);
    return section ? [passOf(named, index, section)] : [];
  });

  function passOf(named: NamedPass, index: number, section: Counted): Sung {
    const up = upOf(named.pass);
    const interval = raisedFrom(home, key, up);
    const placed = voices.map(({ singer, bounds, octaves }): Placed => {
      const isFree = readingOf(singer, section.id, options) === 'free';
      const octave = isFree ? betterOctave([section], interval, bounds) : octaves.get(section.id);
      return place(section, octave ?? 'as written', interval);
    });
    const fits = voices.map(({ singer, bounds }, i): VoiceInPass => {
      const one = placed[i] as Placed;
      const fit = fitOf(figuresOf(one, bounds), [one], interval, bounds, singer);
      return { voice: singer.id, name: singer.name, octave: one.octave, ...fit };
    });
    const { name } = named;
    const fit: PassFit = {
      index,
      name,
      section: section.id,
      up,
      key: raisedKey(key, up),
      voices: fits,
    };
    return { fit, named, interval, placed };
  }

  return { passes: sung.map(({ fit }) => fit), changes: changesIn(sung, voices, home) };
}

interface Sung {
  readonly fit: PassFit;
  readonly named: NamedPass;
  /** From the written key. */
  readonly interval: Interval;
  /** Voice by voice. */
  readonly placed: readonly Placed[];
}

function voiceOf(
  singer: Singer,
  sections: readonly Counted[],
  home: Interval,
  options: PassesOptions,
): PlacedVoice {
  const bounds = boundsOf(singer);
  const readings = sections.map(({ id }) => readingOf(singer, id, options));
  const placed = placeAll(sections, readings, home, bounds);
  return { singer, bounds, octaves: new Map(placed.map((each) => [each.section.id, each.octave])) };
}

const less = (a: Interval, b: Interval): Interval => ({
  steps: a.steps - b.steps,
  semitones: a.semitones - b.semitones,
});

function changesIn(
  sung: readonly Sung[],
  voices: readonly PlacedVoice[],
  home: Interval,
): KeyChange[] {
  return sung.flatMap((here, i): KeyChange[] => {
    const before = sung[i - 1];
    if (here.fit.up === (before?.fit.up ?? 0)) return [];
    const end = sung.findIndex((each, at) => at > i && each.fit.up !== here.fit.up);
    const run = sung.slice(i, end < 0 ? undefined : end);
    const interval = less(here.interval, before?.interval ?? home);
    const change: ChangeTold = {
      named: here.named,
      isFirst: before === undefined,
      isOne: run.length === 1 && end >= 0,
      key: here.fit.key,
      isBack: here.fit.up === 0,
      interval,
    };
    return [
      {
        index: here.fit.index,
        key: here.fit.key,
        interval,
        opening: sayChange(change),
        voices: voices.map(({ singer, bounds }, voice): VoiceAtChange => {
          const placed = distinct(run.map((each) => each.placed[voice] as Placed));
          const told = { singer, bounds, interval: here.interval, placed };
          const words = sayVoice(told, interval.semitones > 0);
          return { voice: singer.id, words, isOutside: isOutside(told) };
        }),
      },
    ];
  });
}

/** A section that is sung more than once in a key counts once. */
function distinct(placed: readonly Placed[]): Placed[] {
  return placed.filter(
    (each, i) => placed.findIndex(({ section }) => section === each.section) === i,
  );
}
