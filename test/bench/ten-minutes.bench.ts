import {
  Congregation,
  Stands,
  type Key,
  type Mishaps,
  type Role,
  type StandPerson,
  type StandService,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { median, type Row } from './measure.ts';

/** A second on a tablet that is four times slower than this machine (what was asked of this app). */
const MOST_MS = 1000 / 4;
const ROUNDS = 5;

/** A team of our own invention: two at the keys, a guitar, a bass, three who sing. */
const person = (name: string, roles: Role[], more: Partial<StandPerson>): StandPerson => ({
  id: name,
  name,
  roles,
  level: 'beginner',
  levels: {},
  instruments: {},
  reach: 12,
  comfortable: null,
  limit: null,
  ...more,
});
const button = { transposeButton: true };
const PEOPLE: readonly StandPerson[] = [
  person('Marit', ['leader', 'keys'], { level: 'advanced', instruments: button, reach: 14 }),
  person('Joel', ['keys'], { instruments: button }),
  person('Ada', ['lead voice'], { comfortable: { low: 'A3', high: 'C5' } }),
  person('Elias', ['guitar', 'lead voice'], { comfortable: { low: 'A2', high: 'D4' } }),
  person('Dora', ['bass'], {}),
  person('Tomas', ['harmony voice'], { comfortable: { low: 'B2', high: 'D4' } }),
];
const SERVICE: StandService = {
  people: PEOPLE,
  congregation: Congregation.voice(Congregation.DEFAULT_GUIDELINE),
  lines: HYMN_FILES.slice(0, 5).map((file, i) => {
    const score = hymn(file);
    const key = score.keys[0]?.key as Key;
    const lead = i % 2 === 0 ? 'Ada' : 'Elias';
    return {
      id: `line-${i}`,
      title: file,
      score,
      arrangement: { tempo: null, density: 'bar', form: null },
      usual: key,
      now: { key, lead },
      named: lead,
      usualLead: null,
      playedIn: {},
      rungs: {},
    };
  }),
};
const away = { kind: 'away' } as const;
const MORNINGS: readonly (readonly [what: string, mishaps: Mishaps])[] = [
  ['the bass is ill', { Dora: away }],
  ['a lead cannot come', { Ada: away }],
  ['a lead is hoarse', { Ada: { kind: 'voice', range: { low: 'A3', high: 'G4' } } }],
  ['both leads are missing', { Ada: away, Elias: away }],
];

/** Of the processor, so that what else the machine does does not count. */
function milliseconds(work: () => unknown): number {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

/** From the tap to keys and leads, and until every changed bar has its number. */
function once(mishaps: Mishaps, isWarm: boolean): { plan: number; all: number } {
  const memory = Stands.newMemory();
  if (isWarm) for (const _ of Stands.warming(SERVICE, memory));
  let change: Stands.LeastChange | null = null;
  const plan = milliseconds(() => (change = new Stands.LeastChange(SERVICE, mishaps, memory)));
  const bars = milliseconds(() => change?.plan.lines.map(({ item }) => change?.pagesOf(item)));
  return { plan, all: plan + bars };
}

export function bench(): Promise<Row[]> {
  const rows = MORNINGS.flatMap(([what, mishaps]): Row[] => {
    const times = Array.from({ length: ROUNDS }, () => once(mishaps, true));
    const plan = median(times.map((each) => each.plan));
    const all = median(times.map((each) => each.all));
    const cold = once(mishaps, false).all;
    return [
      {
        name: `ten minutes before, ${what}: five songs, every changed bar / a second at a quarter of the speed`,
        ratio: all / MOST_MS,
        limit: 1,
        detail: `keys and leads ${plan.toFixed(0)} ms, all bars ${all.toFixed(0)} ms; ${cold.toFixed(0)} ms where nothing was worked out ahead`,
      },
    ];
  });
  return Promise.resolve(rows);
}
