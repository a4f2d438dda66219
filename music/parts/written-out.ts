import { passesOf } from '../score/form.ts';
import { changingKeys, changingMeters, cut, inForceOver } from '../score/cuts.ts';
import type { Bar, Note, Pass, Score, Section, Syllable, Ticks, Voice } from '../score/score.ts';
import { temposOf, withTempos, type TempoFrom } from '../score/tempos.ts';
import { INTRODUCTION } from './introduction.ts';
import { alikeIn, firstTexture, namePasses, type Alike } from './textures.ts';
import type { Texture } from './arrangement.ts';

/** A score whose sections stand once for each way in which they are played. */
export interface WrittenOut {
  readonly score: Score;
  /** How each section of `score` is written, by its id. */
  readonly textures: ReadonlyMap<string, Texture>;
  /** Passes through a section that are played otherwise than it is written, by its id: said in words there. */
  readonly others: ReadonlyMap<string, readonly Alike[]>;
}

interface Copy {
  readonly section: Section;
  readonly alike: Alike | null;
  /** Its section where the song is written out, still on the time line of the song. */
  readonly as: Section;
}

/**
 * Where the passes through a section differ in texture it is written out once for each, one after another in its place.
 * A section that begins or ends inside a bar, that has repeats or endings (they belong to its passes), or that is one
 * bar stays as it is: it is written as its first pass is played, and `others` names the rest.
 */
export function writtenOut(score: Score): WrittenOut {
  const passes = passesOf(score);
  const textures = new Map<string, Texture>();
  const others = new Map<string, readonly Alike[]>();
  const copies = score.sections.flatMap((section): Copy[] => {
    const groups = alikeIn(passes, section);
    const [first] = groups;
    const own = section.id === INTRODUCTION ? firstTexture(score) : (first?.texture ?? 'held');
    if (groups.length < 2 || !canStandTwice(score, section)) {
      textures.set(section.id, own);
      if (groups.length > 1) others.set(section.id, groups.slice(1));
      return [{ section, alike: null, as: section }];
    }
    return groups.map((alike, k): Copy => {
      const as = {
        ...section,
        id: `${section.id}-${k + 1}`,
        name: namePasses(alike.passes),
        copyOf: section.id,
      };
      textures.set(as.id, alike.texture);
      return { section, alike, as };
    });
  });
  const changed = copies.length > score.sections.length;
  return { score: changed ? spliced(score, copies) : score, textures, others };
}

function canStandTwice({ bars }: Score, { from, to }: Section): boolean {
  const own = bars.filter((bar) => bar.at < to && bar.at + bar.length > from);
  const [first, last] = [own[0], own.at(-1)];
  return (
    own.length > 1 &&
    first?.at === from &&
    last !== undefined &&
    last.at + last.length === to &&
    own.every(
      ({ repeatStart, repeatEnd, endings }) => !repeatStart && !repeatEnd && endings.length === 0,
    )
  );
}

/** One copy after another on a new time line. */
function spliced(score: Score, copies: readonly Copy[]): Score {
  const keys: Score['keys'][number][] = [];
  const meters: Score['meters'][number][] = [];
  const bars: Bar[] = [];
  const tempos: TempoFrom[] = [];
  const chords: Score['chords'][number][] = [];
  const sections: Section[] = [];
  const voices = score.voices.map((voice) => ({ voice, notes: [] as Note[] }));
  let end: Ticks = 0;
  copies.forEach(({ section, alike, as }, place) => {
    const moved = end - section.from;
    const own = cut(score.bars, section, moved);
    bars.push(
      ...own.map((bar, i) => asCopied(bar, place < copies.length - 1, i === own.length - 1)),
    );
    keys.push(...inForceOver(score.keys, section, moved));
    meters.push(...inForceOver(score.meters, section, moved));
    tempos.push(...inForceOver(temposOf(score), section, moved));
    chords.push(...cut(score.chords, section, moved));
    for (const { voice, notes } of voices) {
      const here = cut(voice.notes, section, moved);
      notes.push(...(alike ? here.map((note) => withOwnWords(score, note, alike)) : here));
    }
    sections.push({ ...as, from: end, to: end + section.to - section.from });
    end += section.to - section.from;
  });
  return {
    ...withTempos(score, tempos),
    keys: changingKeys(keys),
    meters: changingMeters(meters),
    bars,
    chords,
    sections,
    voices: voices.map(({ voice, notes }): Voice => ({ ...voice, notes })),
    form: passesOf(score).map(({ pass }): Pass => {
      const copy = copies.find(
        ({ alike, section }) =>
          section.id === pass.section && alike?.passes.some((each) => each.pass === pass),
      );
      return copy ? { ...pass, section: copy.as.id } : pass;
    }),
    introduction: [],
  };
}

/** A final bar line in the middle of a sheet would say that the song is over. */
function asCopied(bar: Bar, goesOn: boolean, last: boolean): Bar {
  return goesOn && last && bar.line !== 'dashed' ? { ...bar, line: 'double' } : bar;
}

/** Under a copy stand only words that are sung to it: a verse that is not gives place to the first that is. */
function withOwnWords(score: Score, note: Note, { passes }: Alike): Note {
  const { syllables } = note;
  const sung = passes.flatMap(({ pass }) => (pass.verse === null ? [] : [pass.verse]));
  const first = score.verses.findIndex(({ number }) => sung.includes(number));
  if (!syllables || first < 0) return note;
  return {
    ...note,
    syllables: score.verses.map(
      ({ number }, i): Syllable | null =>
        (sung.includes(number) ? syllables[i] : syllables[first]) ?? null,
    ),
  };
}
