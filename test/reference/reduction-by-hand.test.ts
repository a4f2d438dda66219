import { describe, expect, it } from 'vitest';
import { ChordSymbol, QUARTER, Reduction, Time, type Chord } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HAND_ANALYSES, type HandAnalysis } from './tables/hymn-harmonies.ts';

interface Agreement {
  /** Beats of time (quarters), and on how many the root is the same, and the triad on it too. */
  readonly beats: number;
  readonly roots: number;
  readonly triads: number;
  readonly different: readonly string[];
}

function read(symbol: string): Chord {
  const chord = ChordSymbol.read(symbol);
  if (!chord.ok) throw new Error(symbol);
  return chord.value;
}

/** Root, third and fifth. */
const triadOf = (chord: Chord) => ChordSymbol.tonesOf(chord).slice(0, 3).join(' ');

function agreement({ file, chords }: HandAnalysis): Agreement {
  const score = hymn(file);
  const ours = Reduction.chords(score, { density: 'beat' }).chords;
  const hand = chords.split(' ').map((each) => {
    const [at = '', symbol = ''] = each.split(':');
    return { at: Number(at) * QUARTER, symbol, chord: read(symbol) };
  });
  const edges = [...hand, ...ours].map(({ at }) => at);
  const moments = [...new Set([...edges, Time.endOf(score)])].sort((a, b) => a - b);
  let [beats, roots, triads] = [0, 0, 0];
  const different: string[] = [];
  moments.slice(0, -1).forEach((at, place) => {
    const length = ((moments[place + 1] ?? at) - at) / QUARTER;
    const mine = ours.findLast((each) => each.at <= at)?.chord;
    const theirs = hand.findLast((each) => each.at <= at);
    if (!mine || !theirs) throw new Error(`${file}: no chord at ${at}`);
    beats += length;
    if (mine.root === theirs.chord.root) roots += length;
    if (triadOf(mine) === triadOf(theirs.chord)) triads += length;
    else different.push(`quarter ${at / QUARTER}: ${theirs.symbol} by hand, ${ChordSymbol.write(mine)} found`); // prettier-ignore
  });
  return { beats, roots, triads, different };
}

describe('The chords of six hymns are those of a hand analysis (tables/hymn-harmonies.ts says whose and how)', () => {
  const results = HAND_ANALYSES.map((each) => ({ file: each.file, ...agreement(each) }));
  const sum = (of: (each: Agreement) => number) =>
    results.reduce((total, each) => total + of(each), 0);

  // A loose floor: the figure is for reading, and the prices are not tuned to it.
  it.each(results)('$file: on three beats of four or more', ({ beats, roots }) => {
    expect(roots / beats).toBeGreaterThan(0.75);
  });

  it('and on 85 % of all their beats, the triad on 80 %', () => {
    const [beats, roots, triads] = [
      sum((each) => each.beats),
      sum((each) => each.roots),
      sum((each) => each.triads),
    ];
    const share = (part: number) => `${((100 * part) / beats).toFixed(1)} %`;
    process.stdout.write(
      `by hand: of ${beats} beats of six hymns the same root on ${share(roots)}, the same triad on ${share(triads)}\n`,
    );
    for (const { file, different } of results) {
      process.stdout.write(`  ${file}: ${different.join('; ') || 'the same throughout'}\n`);
    }
    expect(roots / beats).toBeGreaterThan(0.85);
    expect(triads / beats).toBeGreaterThan(0.8);
  });
});
