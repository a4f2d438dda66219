import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { placeOf } from '../../score/time.ts';
import { introductionOf, sayBars, withIntroduction } from './introduction.ts';
import type { Player } from '../arrangement.ts';
import { build } from '../parts.ts';

const INES: Player = { id: 'ines', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 };

/** Eight bars of one chord each, and signs between them. */
const bars = (text: string) => songOf(text.replace(/([A-G]m?)(?=[ |:\]]|$)/g, (c) => `"${c}"c4`));

function partOf(music: string) {
  const score = bars(music);
  const key = { tonic: 'C', mode: 'major' } as const;
  const built = build(score, { key, tempo: null, density: 'bar' }, INES, { roles: [] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

/** Bars with their repeat signs, the introduction's in brackets. */
const signs = (score: ReturnType<typeof bars>) =>
  score.bars
    .map(({ number, copyOf, repeatStart, repeatEnd }) => {
      const name = copyOf === undefined ? String(number) : `[${copyOf}]`;
      return `${repeatStart ? '|:' : ''}${name}${repeatEnd ? ':|' : ''}`;
    })
    .join(' ');

describe('an introduction before a tune with repeats', () => {
  it.each([
    ['C | F | G | C :|', '[4] |:1 2 3 4:|', 'the repeat without an opening sign gets one'],
    ['|: C | F | G | C :|', '[4] |:1 2 3 4:|', 'an opening sign stays'],
    ['C | F |: G | C :|', '[4] 1 2 |:3 4:|', 'a later opening sign stays alone'],
    ['C | F :| G | C :|', '[4] |:1 2:| 3 4:|', 'only the first goes back to the beginning'],
  ])('%s becomes %s: %s', (music, order) => {
    const song = bars(music);
    const last = song.bars.at(-1);
    const spans = [{ from: last?.at ?? 0, to: (last?.at ?? 0) + (last?.length ?? 0) }];
    expect(signs(withIntroduction(song, { spans, marked: true }))).toBe(order);
  });

  it.each([
    ['C | F | C | F | C | F | G | C |]', 'bars 5 to 8'],
    ['C | F | G |1 C | C :|2 F | C |]', 'bars 2 and 3, then bars 6 and 7'],
    ['|: C | F | C | F | C | F | G | C :|', 'bars 5 to 8'],
    ['C | F | C | F | C | F |1 G :|2 C |]', 'bars 4 to 6, then bar 8'],
  ])('%s: the proposal is the end as it is played, %s', (music, words) => {
    const song = bars(music);
    const said = introductionOf(song).spans.map((span) => sayBars(song, span));
    expect(said.join(', then ')).toBe(words);
  });
});

describe('the introduction of a song that ends in another key', () => {
  const song = (sections: string) =>
    songOf(sections.replace(/(?<!:)\b([A-G]m?)(?= |$)/g, (c) => `"${c}"c4`));
  const proposed = (music: string) => {
    const score = song(music);
    return introductionOf(score).spans.map((span) => sayBars(score, span));
  };

  it('is the end of the section sung in the first key, so that the singers hear where they begin', () => {
    expect(proposed('[P:Verse] C | F | G | C | [P:Ending] [K:Dmaj] D | G | A | D |]')).toEqual([
      'bars 1 to 4',
    ]);
  });

  it('is the end of the song as ever where that has come home again', () => {
    expect(
      proposed(
        '[P:Verse] C | F | [P:Bridge] [K:Dmaj] D | A | [P:Ending] [K:Cmaj] C | F | G | C |]',
      ),
    ).toEqual(['bars 5 to 8']);
  });
});

describe('the changes of a song with repeats', () => {
  const ways = (music: string) => {
    const part = partOf(music);
    const name = (index: number) => part.shapes[index]?.chord.root ?? '';
    return part.moves.map(({ from, to }) => `${name(from)}-${name(to)}`);
  };

  it('go back to the beginning of the repeat, and from the first bars into the last ending', () => {
    const played = ways('C | D | F |1 G :|2 A |]');
    expect(played).toContain('G-C');
    expect(played).toContain('F-A');
    // The endings stand side by side on paper only.
    expect(played).not.toContain('G-A');
  });

  it('are weighed for practice too', () => {
    const words = partOf('C | D | F |1 G :|2 A |]').practice.join(' ');
    expect(words).not.toContain('G to A');
  });
});

describe('a place in a written-out introduction', () => {
  it('counts every bar from its own beginning', () => {
    const song = hymn('Amazing_Grace-New_Britain.abc');
    const whole = withIntroduction(song, introductionOf(song));
    expect(whole.bars.slice(0, 6).map(({ at }) => placeOf(whole, at).beat)).toEqual([
      1, 1, 1, 1, 3, 1,
    ]);
  });
});
