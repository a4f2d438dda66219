import { describe, expect, it } from 'vitest';
import { QUARTER, Reduction } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { CHORALES, type Chorale } from './tables/reduction-chorales.ts';

/** On how many beats (quarters) our root is the analyst's. Chorales move faster and less plainly than hymns do. */
function agreement(chorale: Chorale): { beats: number; same: number } {
  const { key, meter, voices } = chorale;
  const { chords } = Reduction.chords(buildScore({ key, meter, voices }), { density: 'beat' });
  const theirs = chorale.roots.split(' ').map((each) => {
    const [at = '', root = ''] = each.split(':');
    return { at: Number(at) * QUARTER, root };
  });
  const end = chords.at(-1);
  let [beats, same] = [0, 0];
  for (let at = 0; end && at < end.at + end.length; at += QUARTER) {
    const ours = chords.findLast((each) => each.at <= at)?.chord;
    beats += 1;
    if (ours?.root === theirs.findLast((each) => each.at <= at)?.root) same += 1;
  }
  return { beats, same };
}

describe('The roots of Bach chorales are those that analysts wrote (corpus of music21)', () => {
  const results = CHORALES.map((chorale) => ({ chorale, ...agreement(chorale) }));

  it.each(results)('$chorale.bwv $chorale.title: on three beats of four or more', (result) => {
    expect(result.same / result.beats).toBeGreaterThan(0.75);
  });

  it('and on at least 88 % of all their beats', () => {
    const beats = results.reduce((sum, each) => sum + each.beats, 0);
    const same = results.reduce((sum, each) => sum + each.same, 0);
    process.stdout.write(`roots as analysed: ${same} of ${beats} beats of ten chorales\n`);
    expect(same / beats).toBeGreaterThan(0.88);
  });
});
