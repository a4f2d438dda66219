import type { Key } from '../pitch/key.ts';
import { round, sayTonic, sayVerdict, type Cost, type HandCost } from './fit-costs.ts';
import { VERDICTS, type FitRow } from './fit-row.ts';
import { rankOf } from './placed.ts';

/** What a suggestion looks at, in this order; each step only decides among the keys that the steps before left equal. */
export const SUGGESTION_ORDER = [
  'the singer who has it worst, then the next',
  'the congregation',
  'the hands',
  'how near the tune lies to the middle of the lead’s range, weighted by time',
  'how near the key lies to the written one',
  'sharps or flats to read',
  'the first from C up',
] as const;

export interface Suggestion {
  readonly key: Key;
  /** The steps that decided something, in order, with the keys each left. */
  readonly steps: readonly SuggestionStep[];
}

export interface SuggestionStep {
  /** One of `SUGGESTION_ORDER`. */
  readonly by: (typeof SUGGESTION_ORDER)[number];
  readonly left: readonly Key[];
  /** `F: 0.4 half steps above the middle of Ruth’s range, the nearest`. */
  readonly words: string;
}

interface Candidate {
  readonly key: Key;
  readonly voices: readonly FitRow[];
  readonly hands: HandCost | null;
  readonly costs: readonly Cost[];
}

interface Step {
  readonly by: SuggestionStep['by'];
  /** Compared place by place; less is better. */
  readonly value: (candidate: Candidate) => readonly number[];
  readonly words: (candidate: Candidate) => string;
}

export function suggest(
  candidates: readonly Candidate[],
  leads: readonly string[],
  congregation: string,
): Suggestion | null {
  let left = [...candidates];
  const steps: SuggestionStep[] = [];
  for (const step of stepsFor(leads, congregation)) {
    const [first] = left;
    if (!first || left.length === 1) break;
    const best = left.map(step.value).reduce((a, b) => (compare(b, a) < 0 ? b : a));
    const kept = left.filter((each) => compare(step.value(each), best) === 0);
    if (kept.length < left.length) {
      left = kept;
      const keys = left.map(({ key }) => key);
      const words = `${keys.map(sayTonic).join(', ')}: ${step.words(left[0] as Candidate)}`;
      steps.push({ by: step.by, left: keys, words });
    }
  }
  const [chosen] = left;
  return chosen ? { key: chosen.key, steps } : null;
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < Math.max(a.length, b.length); i += 1) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

function stepsFor(leads: readonly string[], congregation: string): Step[] {
  const [worst, room, hands, middle, distance, signature, order] = SUGGESTION_ORDER;
  const cost = ({ costs }: Candidate, dimension: Cost['dimension']): Cost | undefined =>
    costs.find((each) => each.dimension === dimension);
  const people = ({ voices }: Candidate): FitRow[] =>
    voices.filter(({ voice }) => voice !== congregation);
  const ranks = (candidate: Candidate): number[] =>
    people(candidate)
      .map(({ verdict, shareOutside }) => rankOf(verdict) + shareOutside)
      .sort((a, b) => b - a);
  const theRoom = ({ voices }: Candidate): FitRow | undefined =>
    voices.find(({ voice }) => voice === congregation);
  const furthest = ({ voices }: Candidate): FitRow | undefined =>
    voices
      .filter(({ voice }) => leads.includes(voice))
      .reduce<FitRow | undefined>(
        (far, row) => (far && Math.abs(far.meanOffset) >= Math.abs(row.meanOffset) ? far : row),
        undefined,
      );
  return [
    {
      by: worst,
      value: ranks,
      words: (each) => {
        const verdict = VERDICTS[Math.floor(ranks(each)[0] ?? 0)] ?? 'outside';
        return people(each).length === 1
          ? `${people(each)[0]?.name ?? ''}: ${sayVerdict(verdict)}`
          : `no singer worse than “${sayVerdict(verdict)}”`;
      },
    },
    {
      by: room,
      value: (each) => {
        const row = theRoom(each);
        return row ? [rankOf(row.verdict) + row.shareOutside] : [];
      },
      words: (each) =>
        `${theRoom(each)?.name ?? ''}: ${sayVerdict(theRoom(each)?.verdict ?? 'easy')}`,
    },
    {
      by: hands,
      // What nobody can say counts as the most.
      value: (each) => [cost(each, 'hands')?.value ?? Number.MAX_SAFE_INTEGER],
      words: (each) => `${cost(each, 'hands')?.words ?? 'hands'}, the least`,
    },
    {
      by: middle,
      value: (each) => [Math.abs(furthest(each)?.meanOffset ?? 0)],
      words: (each) => {
        const row = furthest(each);
        const off = row?.meanOffset ?? 0;
        const far = round(Math.abs(off));
        const range = `the middle of ${row?.name ?? ''}’s range`;
        if (far === '0') return `right in ${range}`;
        return `${far} half steps ${off < 0 ? 'below' : 'above'} ${range}, the nearest`;
      },
    },
    {
      by: distance,
      value: (each) => [cost(each, 'distance')?.value ?? 0],
      words: (each) => `${cost(each, 'distance')?.words ?? ''}, the nearest`,
    },
    {
      by: signature,
      value: (each) => [cost(each, 'signature')?.value ?? 0],
      words: (each) => `${cost(each, 'signature')?.words ?? ''}, the fewest`,
    },
    {
      by: order,
      value: (each) => [candidateOrder(each)],
      words: () => 'the first from C up',
    },
  ];
}

const LETTERS = 'CDEFGAB';

/** C before C sharp before D flat before D. */
function candidateOrder({ key }: Candidate): number {
  const sharp = key.tonic.includes('#') ? 0.4 : key.tonic.includes('b') ? -0.4 : 0;
  return LETTERS.indexOf(key.tonic.charAt(0)) + sharp;
}
