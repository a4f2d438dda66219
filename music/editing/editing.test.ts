import { readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Abc } from '#music';
import { anyEdit } from '#test/support/arbitrary-edit.ts';
import { anyScore } from '#test/support/arbitrary-score.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { check } from '../score/check-score.ts';
import type { Score } from '../score/score.ts';
import { changingKeys } from '../score/cuts.ts';
import { endOf, keyAt, melodyOf, soundingNotes } from '../score/time.ts';
import { apply, say, wordsBegin, wordsOf, type Edit } from './editing.ts';

const LENGTHENS: readonly Edit['do'][] = ['insert bars', 'remove bars', 'pickup', 'meter', 'give time']; // prettier-ignore
const draw = fc.gen();
const anySong = fc.oneof(
  { weight: 5, arbitrary: anyScore },
  { weight: 1, arbitrary: anyScore.map((score): Score => ({ ...score, untimed: true })) },
);

function edited(score: Score, edit: Edit): Score {
  const result = apply(score, edit);
  if (!result.ok) throw new Error(`${edit.do}: ${result.problems[0]?.message ?? ''}`);
  return result.value;
}

/** More accidentals than three are not written, so what has two already may have to be spelled otherwise. */
const plainlySpelled = (score: Score): Score => ({
  ...score,
  voices: score.voices.map((voice) => ({
    ...voice,
    notes: voice.notes.map((note) => ({
      ...note,
      pitches: note.pitches.map((pitch) => pitch.replace('##', '#').replace('bb', 'b')),
      ...(note.grace && { grace: note.grace.map((pitch) => pitch.replace(/[#b]+/, '')) }),
    })),
  })),
});

const hymns = HYMN_FILES.map((name): readonly [string, Score] => {
  const bytes = readFileSync(new URL(`../../seed-data/hymns/${name}`, import.meta.url));
  const result = Abc.read(bytes);
  const [score] = result.ok ? result.value : [];
  if (!score) throw new Error(`${name} cannot be read`);
  return [name, score];
});

describe('any edit of any song', () => {
  it('is refused with a sentence, or leaves a song that holds together; the song itself stays', () => {
    const done = new Map<Edit['do'], number>();
    fc.assert(
      fc.property(anySong, draw, (first, next) => {
        let score = first;
        for (let count = 0; count < 6; count += 1) {
          const edit = next(anyEdit, score);
          const before = JSON.stringify(score);
          const result = apply(score, edit);
          expect(say(score, edit)).toMatch(/\S/);
          expect(JSON.stringify(score)).toBe(before);
          if (!result.ok) {
            expect(result.problems[0]?.message).toMatch(/^\S.*\.$/su);
            continue;
          }
          done.set(edit.do, (done.get(edit.do) ?? 0) + 1);
          expect(check(result.value)).toEqual([]);
          const isOrder = score.untimed && edit.do === 'chords as in';
          if (!LENGTHENS.includes(edit.do) && !isOrder)
            expect(endOf(result.value)).toBe(endOf(score));
          score = result.value;
        }
      }),
      { numRuns: 250, seed: 5 },
    );
    // Each kind was really done, not only refused.
    expect([...done.keys()].sort()).toHaveLength(29);
  });
});

describe('what is done and taken back', () => {
  it('bars put in and taken out again leave the song as it was', () => {
    const bars = fc.tuple(anyScore, fc.nat(9), fc.integer({ min: 1, max: 3 }));
    fc.assert(
      fc.property(bars, ([score, place, count]) => {
        const bar = place % (score.bars.length + 1);
        const result = apply(score, { do: 'insert bars', bar, count });
        fc.pre(result.ok);
        const back = edited(result.value, { do: 'remove bars', from: bar, to: bar + count });
        expect(back).toEqual(score);
      }),
      { numRuns: 150 },
    );
  });

  it('a note that is erased and written again is the note it was', () => {
    fc.assert(
      fc.property(anyScore, fc.nat(), (score, place) => {
        const voice = score.voices[place % score.voices.length];
        const plain = voice?.notes.filter((note, i) => {
          const isTied = note.tie ?? voice.notes[i - 1]?.tie;
          return note.pitches.length > 0 && !isTied;
        });
        const note = plain?.[place % plain.length];
        fc.pre(voice !== undefined && note !== undefined);
        const { at, length, pitches, tuplet } = note;
        const silent = edited(score, { do: 'erase', voice: voice.id, at });
        const again = edited(silent, {
          do: 'note', voice: voice.id, at, length, pitches, ...(tuplet && { tuplet }),
        }); // prettier-ignore
        const heard = (song: Score) => song.voices.map(soundingNotes);
        expect(heard(again)).toEqual(heard(score));
        const others = (song: Score) => ({ ...song, voices: song.voices.filter(({ id }) => id !== voice.id) }); // prettier-ignore
        expect(others(again)).toEqual(others(score));
      }),
      { numRuns: 150 },
    );
  });

  it('a stretch moved to another key and back is what it was, spelling and all', () => {
    const keys = fc.constantFrom('C', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B');
    fc.assert(
      fc.property(anyScore.map(plainlySpelled), fc.nat(9), keys, (score, place, tonic) => {
        const bar = place % score.bars.length;
        const from = score.bars[bar]?.at ?? 0;
        const home = keyAt(score, from).key;
        const there = apply(score, { do: 'move to key', bar, key: { tonic, mode: home.mode } });
        fc.pre(there.ok);
        const back = edited(there.value, { do: 'move to key', bar, key: home });
        // A chord or key that was said again at the edge of the stretch stays said, or is said once.
        const once = ({ keys: all }: Score) =>
          changingKeys(all).map(({ at, key, signature, sure }) => ({ at, key, signature, sure }));
        const sounding = ({ chords }: Score) =>
          chords.flatMap(({ at, length, chord }, i) => {
            const before = chords[i - 1];
            const again = before && before.at + before.length === at && isDeepStrictEqual(before.chord, chord); // prettier-ignore
            return again ? [] : [{ at, chord, end: length > 0 }];
          });
        expect(back.voices).toEqual(score.voices);
        expect(once(back)).toEqual(once(score));
        expect(sounding(back)).toEqual(sounding(score));
      }),
      { numRuns: 200 },
    );
  });
});

describe('the 24 hymns', () => {
  it.each(hymns)('%s keeps its words when they are taken up and laid again', (_, score) => {
    for (const { id } of score.sections) {
      for (const { number } of score.verses) {
        const text = wordsOf(score, id, number);
        if (text === '') continue;
        const from = wordsBegin(score, id, number) ?? undefined;
        const again = { do: 'words', section: id, verse: number, text } as const;
        expect(edited(score, from === undefined ? again : { ...again, from })).toEqual(score);
      }
    }
  });

  it.each(hymns)('%s sounds the same in another meter and back', (_, score) => {
    const meter = score.meters[0]?.meter;
    if (score.meters.length > 1 || !meter) return;
    const halves = apply(score, { do: 'meter', bar: 0, meter: { beats: 5, unit: 4 } });
    if (!halves.ok) return expect(halves.problems[0]?.message).toMatch(/repeat|pickup/);
    const heard = (song: Score) => soundingNotes(melodyOf(song));
    expect(heard(halves.value)).toEqual(heard(score));
    expect(heard(edited(halves.value, { do: 'meter', bar: 0, meter }))).toEqual(heard(score));
  });
});
