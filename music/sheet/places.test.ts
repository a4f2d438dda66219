import { describe, expect, it } from 'vitest';
import { makeEngraver } from '#test/support/verovio.ts';
import { read } from '../formats/abc.ts';
import { engrave } from './engrave.ts';
import type { Engraver } from './engraver.ts';

const TUNE = 'X:1\nT:A tune\nM:4/4\nL:1/4\nK:G\nGABc|z4|[GB]2 d2-|d2 z (3e/f/g/|]\n';
const PLACE = /<g class="place" data-voice="(\d+)" data-at="(\d+)"/g;

describe('A drawing that is worked on', async () => {
  const engraver = (await makeEngraver()) as unknown as Engraver;
  const tunes = read(TUNE);
  if (!tunes.ok || !tunes.value[0]) throw new Error('the tune does not read');
  const [score] = tunes.value;
  const page = { width: 800, textScale: 0.75, verse: 1 } as const;
  const placesIn = (places: boolean) => {
    const { systems } = engrave(engraver, { score, page, places });
    return systems.flatMap(({ svg }) => [...svg.matchAll(PLACE)].map((match) => Number(match[2])));
  };

  it('names the place of every note and rest of the score', () => {
    const notes = score.voices[0]?.notes.map(({ at }) => at) ?? [];
    expect(notes).toHaveLength(12);
    expect(placesIn(true)).toEqual(notes);
  });

  it('names none where it is only read', () => {
    expect(placesIn(false)).toEqual([]);
  });
});
