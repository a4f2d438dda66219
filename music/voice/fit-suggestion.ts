import { sayPlayer, type PlayerCost } from '../hand/player-cost.ts';
import { sayTonic, type Key } from '../pitch/key.ts';
import { inPasses, round, sayVerdict, type Cost, type HandCost } from './fit-costs.ts';
import { amountOutside, offMiddle, sayOutside } from './fit-ends.ts';
import type { VoiceRow } from './fit-row.ts';
import { rankOf } from './placed.ts';

/** What a suggestion looks at, in this order; each step only decides among the keys that the steps before left equal. */
export const SUGGESTION_ORDER = [
  'comfort: the singer who is furthest outside, then the next',
  'the congregation’s comfort',
  'how easily the singers sit, the one who has it worst first',
  'how easily the congregation sits',
  'the hands',
  'the players, one after another: what is hard',
  'the players, one after another: what is finer',
  'how near the tune lies to the middle of the lead’s range, weighted by time',
  'how near the key lies to the usual one',
  'how near the key lies to the written one',
  'sharps or flats to read',
  'the first from C up',
] as const;

/** What is said instead of the eighth where no time is known. */
const BY_ENDS = 'how near the tune lies to the middle of the lead’s range, going by its ends';

export interface Suggestion {
  readonly key: Key;
  /** The steps that decided something, in order, with the keys each left. */
  readonly steps: readonly SuggestionStep[];
}

export interface SuggestionStep {
  /** One of `SUGGESTION_ORDER`, or what stands for its eighth where no time is known; of players with their name. */
  readonly by: (typeof SUGGESTION_ORDER)[number] | typeof BY_ENDS | `${string} (${string})`;
  readonly left: readonly Key[];
  /** `F: 0.4 half steps above the middle of Ruth’s range, the nearest`. */
  readonly words: string;
}

interface Candidate {
  readonly key: Key;
  readonly voices: readonly VoiceRow[];
  readonly hands: HandCost | null;
  readonly players: readonly PlayerCost[];
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
  const isTimed = candidates.every(({ voices }) => voices.every(({ known }) => known === 'melody'));
  for (const step of stepsFor(leads, congregation, isTimed, playersOf(candidates))) {
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

/** Nothing where the tune stays inside the range: how easily it sits there is asked later. */
function discomfort(row: VoiceRow): number {
  const rank = rankOf(row.verdict);
  return rank > rankOf('works') ? rank + amountOutside(row) : 0;
}

/** `comfortable for Ruth and Tomas`, or who is not, with how much of the singing. */
function sayComfort(rows: readonly VoiceRow[]): string {
  const outside = rows.filter((row) => discomfort(row) > 0);
  if (outside.length === 0) return `comfortable for ${sayNames(rows)}`;
  const shares = outside.map((row) => {
    const amount = sayOutside(row);
    return row.known === 'melody'
      ? `${amount} lies outside for ${row.name}${inPasses(row)}`
      : `it goes ${amount} outside for ${row.name}${inPasses(row)}`;
  });
  return `${shares.join(', ')}; no other key asks less`;
}

function sayNames(rows: readonly VoiceRow[]): string {
  const names = rows.map(({ name }) => name);
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

type WhoPlays = Pick<PlayerCost, 'player' | 'name' | 'role'>;

/** Everybody who is weighed in some key, in their order. */
function playersOf(candidates: readonly Candidate[]): WhoPlays[] {
  const all: WhoPlays[] = [];
  for (const each of candidates.flatMap(({ players }) => players))
    if (!all.some((known) => isSame(known, each))) all.push(each);
  return all;
}

const isSame = (a: WhoPlays, b: WhoPlays): boolean => a.player === b.player && a.role === b.role;

/** Two steps for each player: first everybody's figure, then what is finer. What nobody can say counts as the most. */
function playersSteps(who: readonly WhoPlays[]): Step[] {
  const [, , , , , hard, finer] = SUGGESTION_ORDER;
  const costOf = ({ players }: Candidate, one: WhoPlays) =>
    players.find((each) => isSame(each, one));
  const step = (
    by: string,
    one: WhoPlays,
    value: (cost: PlayerCost) => readonly number[],
    least: string,
  ): Step => ({
    by: `${by} (${sayPlayer(one)})`,
    value: (each) => {
      const cost = costOf(each, one);
      return cost ? value(cost) : [Number.MAX_SAFE_INTEGER];
    },
    words: (each) => `${sayPlayer(one)}: ${costOf(each, one)?.phrase ?? 'not weighed'}, ${least}`,
  });
  return [
    ...who.map((one) => step(hard, one, ({ ease }) => [ease.value], 'the least')),
    ...who.map((one) => step(finer, one, (cost) => cost.finer, 'and all in all the easiest')),
  ];
}

function stepsFor(
  leads: readonly string[],
  congregation: string,
  isTimed: boolean,
  who: readonly WhoPlays[],
): Step[] {
  const [comfort, room, ease, roomEase, hands, , , middle, usual, distance, signature, order] =
    SUGGESTION_ORDER;
  const cost = ({ costs }: Candidate, dimension: Cost['dimension']): Cost | undefined =>
    costs.find((each) => each.dimension === dimension);
  const people = ({ voices }: Candidate): VoiceRow[] =>
    voices.filter(({ voice }) => voice !== congregation);
  const ranks = (candidate: Candidate): number[] =>
    people(candidate)
      .map((row) => rankOf(row.verdict) + amountOutside(row))
      .sort((a, b) => b - a);
  const theRoom = ({ voices }: Candidate): VoiceRow | undefined =>
    voices.find(({ voice }) => voice === congregation);
  const furthest = ({ voices }: Candidate): VoiceRow | undefined =>
    voices
      .filter(({ voice }) => leads.includes(voice))
      .reduce<VoiceRow | undefined>(
        (far, row) => (far && Math.abs(offMiddle(far)) >= Math.abs(offMiddle(row)) ? far : row),
        undefined,
      );
  return [
    {
      by: comfort,
      value: (each) =>
        people(each)
          .map(discomfort)
          .sort((a, b) => b - a),
      words: (each) => sayComfort(people(each)),
    },
    {
      by: room,
      value: (each) => {
        const row = theRoom(each);
        return row ? [discomfort(row)] : [];
      },
      words: (each) => {
        const row = theRoom(each);
        return row ? sayComfort([row]) : '';
      },
    },
    {
      by: ease,
      value: ranks,
      words: (each) =>
        people(each)
          .map(
            (row) =>
              `${row.name}: ${sayVerdict(row.verdict)}${row.verdict === 'easy' ? '' : inPasses(row)}`,
          )
          .join(', '),
    },
    {
      by: roomEase,
      value: (each) => {
        const row = theRoom(each);
        return row ? [rankOf(row.verdict) + amountOutside(row)] : [];
      },
      words: (each) =>
        `${theRoom(each)?.name ?? ''}: ${sayVerdict(theRoom(each)?.verdict ?? 'easy')}`,
    },
    {
      by: hands,
      // What nobody can say counts as the most.
      value: (each) => [cost(each, 'hands')?.value ?? Number.MAX_SAFE_INTEGER],
      words: (each) => sayLeast(each),
    },
    ...playersSteps(who),
    {
      by: isTimed ? middle : BY_ENDS,
      value: (each) => {
        const row = furthest(each);
        return [row ? Math.abs(offMiddle(row)) : 0];
      },
      words: (each) => {
        const row = furthest(each);
        const off = row ? offMiddle(row) : 0;
        const far = round(Math.abs(off));
        const range = `the middle of ${row?.name ?? ''}’s range${row ? inPasses(row) : ''}`;
        if (far === '0') return `right in ${range}`;
        return `${far} half steps ${off < 0 ? 'below' : 'above'} ${range}, the nearest`;
      },
    },
    {
      by: usual,
      value: (each) => [cost(each, 'usual')?.value ?? 0],
      words: (each) => `${cost(each, 'usual')?.words ?? ''}, the nearest`,
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

function sayLeast({ hands, costs }: Candidate): string {
  if (hands?.phrase !== undefined) return `${hands.phrase}; the hands have it easiest here`;
  return `${costs.find(({ dimension }) => dimension === 'hands')?.words ?? 'hands'}, the least`;
}

const LETTERS = 'CDEFGAB';

/** C before C sharp before D flat before D. */
function candidateOrder({ key }: Candidate): number {
  const sharp = key.tonic.includes('#') ? 0.4 : key.tonic.includes('b') ? -0.4 : 0;
  return LETTERS.indexOf(key.tonic.charAt(0)) + sharp;
}
