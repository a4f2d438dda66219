import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { weigh } from '../best/weigh.ts';
import { joinCost } from '../best/joins.ts';
import { pitchClassOf } from '../../pitch/pitch.ts';
import { sameKey, type Key } from '../../pitch/key.ts';
import { barsChanged, sungBarsChanged } from '../../parts/bars-changed.ts';
import { build } from '../../parts/parts.ts';
import type { ArrangedPass, Player, Team } from '../../parts/arrangement.ts';
import type { Part, Role } from '../../parts/part.ts';
import { rungsFor } from '../../parts/rungs.ts';
import { LeastChange, newMemory } from './least-change.ts';
import { peopleAfter, teamAfter } from './after.ts';
import type { Range } from '../../voice/range.ts';
import type { Mishaps, StandPerson, StandService, StandSong } from './terms.ts';

const person = (id: string, roles: Role[], more: Partial<StandPerson> = {}): StandPerson => ({
  id,
  name: id,
  roles,
  level: 'beginner',
  levels: {},
  instruments: {},
  reach: 12,
  comfortable: null,
  limit: null,
  ...more,
});
/** An invented team: a keyboard without a transpose button and one with it, a guitar with a capo, a bass, two who lead and one beside the tune. */
const JOEL = person('Joel', ['keys']);
const MARIT = person('Marit', ['keys'], {
  level: 'intermediate',
  instruments: { transposeButton: true },
});
const ELIAS = person('Elias', ['guitar'], { instruments: { capo: 5 } });
const DORA = person('Dora', ['bass']);
const ADA = person('Ada', ['lead voice'], { comfortable: { low: 'A3', high: 'C5' } });
const RUBEN = person('Ruben', ['lead voice'], { comfortable: { low: 'C3', high: 'E4' } });
const WREN = person('Wren', ['harmony voice'], { comfortable: { low: 'G3', high: 'B4' } });
const TEAM = [JOEL, MARIT, ELIAS, DORA, ADA, RUBEN, WREN];

const SONGS = [
  'Amazing_Grace-New_Britain',
  'Abide_With_Me-Eventide',
  'Now_Thank_We_All_Our_God-Nun_Danket',
].map((name) => hymn(`${name}.abc`));
/** The last song goes up a step for its last pass, so that its pages are longer than the song. */
const formOf = (at: number): ArrangedPass[] | null => {
  const form = SONGS[at]?.form ?? [];
  return at < 2 ? null : form.map((pass, i) => (i < form.length - 1 ? pass : { ...pass, up: 2 }));
};
const major = (tonic: string): Key => ({ tonic, mode: 'major' });

function serviceOf(
  keys: readonly string[],
  leads: readonly string[],
  usual: string | null,
): StandService {
  return {
    people: TEAM,
    congregation: null,
    lines: SONGS.map((score, i): StandSong => {
      const key = major(keys[i] ?? 'F');
      const lead = leads[i] ?? 'Ada';
      return {
        id: `line-${i}`,
        title: `song ${i}`,
        score,
        arrangement: { tempo: null, density: 'bar', form: formOf(i) },
        usual: key,
        now: { key, lead },
        named: lead,
        usualLead: usual,
        playedIn: {},
        rungs: {},
      };
    }),
  };
}

const memo = new Map<string, Part>();
/** A part from the song itself, each once. */
function partOf(at: number, key: Key, own: StandPerson, role: Role, team: Team): Part {
  const sign = JSON.stringify([at, key, own.id, own.comfortable, role, team]);
  const found = memo.get(sign);
  if (found) return found;
  const { id, level, comfortable: voice } = own;
  const player: Player = {
    id,
    name: id,
    role,
    level,
    reach: 12,
    rungs: rungsFor(level, {}),
    voice,
  };
  const score = SONGS[at];
  if (!score) throw new Error('there is such a song');
  const built = build(score, { key, tempo: null, density: 'bar', form: formOf(at) }, player, team);
  if (!built.ok) throw new Error('there is a part');
  memo.set(sign, built.value);
  return built.value;
}
const countOf = (hands: ReturnType<typeof barsChanged>): number =>
  new Set(hands.flatMap((hand) => hand.bars.map(({ bar }) => bar.at))).size;

/** Bars of somebody’s keyboard part that differ once the bass is gone, from the parts themselves. */
function barsWithoutBass(at: number, key: Key, player: StandPerson): number {
  const [was, now] = [['bass', 'keys'] as Role[], ['keys'] as Role[]].map((roles) =>
    partOf(at, key, player, 'keys', { roles }),
  );
  return was && now ? countOf(barsChanged(was, now)) : 0;
}

/** Bars of a whole page as it is written in a key. */
const pageIn = (at: number, key: Key, player: StandPerson, role: Role): number =>
  partOf(at, key, player, role, { roles: ['lead voice', role] }).score.bars.length;

/** Bars of the line beside the tune that differ in the same key, once others lead or with another voice. */
function barsBeside(
  at: number,
  key: Key,
  was: string | null,
  now: string | null,
  voices: Voices,
): number {
  const lineFor = (lead: string | null, who: Voices, roles: readonly Role[]): Part => {
    const harmonies = [{ id: 'Wren', name: 'Wren', voice: { low: 'G3', high: 'B4' } }];
    const leadVoice = lead === null ? null : (who[lead] ?? null);
    return partOf(at, key, WREN, 'harmony voice', { roles, leadVoice, harmonies });
  };
  const after: Role[] = Object.keys(voices).length > 0 ? ['lead voice'] : [];
  const before = { Ada: ADA.comfortable, Ruben: RUBEN.comfortable };
  return countOf(
    sungBarsChanged(lineFor(was, before, ['lead voice']), lineFor(now, voices, after)),
  );
}
/** By lead voice who serves. */
type Voices = Readonly<Record<string, Range | null>>;

const up = (from: Key, to: Key): number =>
  (pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 12) % 12;

/** The points of one way of one song, added up anew from what is said of the prices. */
function changesOf(
  at: number,
  song: StandSong,
  key: Key,
  lead: string | null,
  mishaps: Mishaps,
): number {
  const isAway = (id: string) => mishaps[id]?.kind === 'away';
  const isOther = !sameKey(key, song.now.key);
  const bars = song.score.bars.length;
  const page = (own: StandPerson, role: Role) => pageIn(at, key, own, role);
  const keys = [JOEL, MARIT]
    .filter(({ id }) => !isAway(id))
    .reduce((sum, each) => {
      const hasButton = each.instruments.transposeButton === true;
      if (isOther && !hasButton) return sum + page(each, 'keys');
      const other = isAway('Dora') ? barsWithoutBass(at, song.now.key, each) : 0;
      return sum + other + (isOther ? 3 : 0);
    }, 0);
  const fret = up(song.now.key, key);
  const guitar = isAway('Elias') || !isOther ? 0 : fret <= 5 ? 3 : bars;
  const eased = isOther && fret > 5 ? null : 0;
  const bass = isOther && !isAway('Dora') ? page(DORA, 'bass') : 0;
  // A quarter of a point for a bar that is sung, each page rounded up, in another key as in another line.
  const voices: Voices = Object.fromEntries(
    [ADA, RUBEN].flatMap(({ id, comfortable }) => {
      const what = mishaps[id];
      return isAway(id) ? [] : [[id, what?.kind === 'voice' ? what.range : comfortable]];
    }),
  );
  const leads = [ADA, RUBEN].filter(({ id }) => id in voices);
  const sung = leads.map((each) => (isOther ? page(each, 'lead voice') : 0));
  const beside = isOther
    ? page(WREN, 'harmony voice')
    : barsBeside(at, key, song.now.lead, lead, voices);
  const singers = [...sung, ...(isAway('Wren') ? [] : [beside])].reduce(
    (sum, each) => sum + Math.ceil(each / 4),
    0,
  );
  const isNew = lead !== song.now.lead && lead !== song.usualLead;
  // Where the guitar turns to other shapes, a capo may go on with them, which is set too.
  const capo = eased === null && !isAway('Elias') && capoFor(key) ? 3 : 0;
  return keys + guitar + bass + singers + capo + (isNew ? 10 : 0);
}

/** Whether a key has no open shape of its own on the guitar: C, G, D, A and E are taught (common practice). */
const capoFor = ({ tonic }: Key): boolean => !['C', 'G', 'D', 'A', 'E'].includes(tonic);

/** Every key and lead of every song, tried. */
function brute(service: StandService, mishaps: Mishaps): { changes: number; points: number } {
  const people = peopleAfter(service.people, mishaps);
  const team = teamAfter(service, people, mishaps);
  const ways = service.lines.map((line, at) => {
    const song = line as StandSong;
    const { lead } = song.now;
    const stays = lead !== null && people.some(({ id }) => id === lead) && !mishaps[lead];
    const all = stays ? [{ ...song.now, costs: [] }] : weigh(song, team).ways;
    return all.map((way) => ({
      key: way.key,
      changes: changesOf(at, song, way.key, way.lead, mishaps),
      points: way.costs.reduce((sum, { points }) => sum + points, 0),
    }));
  });
  let best = { changes: Infinity, points: Infinity };
  const [first = [], second = [], third = []] = ways;
  for (const a of first)
    for (const b of second)
      for (const c of third) {
        const changes = a.changes + b.changes + c.changes;
        const joins = joinCost(a.key, b.key, false).points + joinCost(b.key, c.key, false).points;
        const points = a.points + b.points + c.points + joins;
        if (changes < best.changes || (changes === best.changes && points < best.points))
          best = { changes, points };
      }
  return best;
}

const memory = newMemory();
function asked(service: StandService, mishaps: Mishaps) {
  const change = new LeastChange(service, mishaps, memory);
  const { lines } = change.plan;
  const joins = lines
    .slice(1)
    .map(({ key }, i) => joinCost(lines[i]?.key ?? key, key, false).points);
  const own = lines.flatMap(({ costs }) => costs.map(({ points }) => points));
  return {
    change,
    changes: lines.reduce((sum, { item }) => sum + (change.pagesOf(item)?.points ?? 0), 0),
    points: [...own, ...joins].reduce((sum, each) => sum + each, 0),
  };
}

const tonic = fc.constantFrom('C', 'D', 'Eb', 'F', 'G', 'A', 'Bb');
const lead = fc.constantFrom('Ada', 'Ruben');
const away = fc.constant({ kind: 'away' as const });
const hoarse = fc.constantFrom(
  { kind: 'voice' as const, range: { low: 'A3', high: 'A4' } },
  { kind: 'voice' as const, range: { low: 'B3', high: 'G4' } },
);
const mishaps: fc.Arbitrary<Mishaps> = fc.record(
  { Dora: away, Joel: away, Elias: away, Ada: fc.oneof(away, hoarse), Marit: away, Wren: away },
  { requiredKeys: [] },
);

describe('The least change after a mishap', () => {
  it('is what trying every key and lead finds, to the point', { timeout: 240_000 }, () => {
    fc.assert(
      fc.property(
        fc.array(tonic, { minLength: 3, maxLength: 3 }),
        fc.array(lead, { minLength: 3, maxLength: 3 }),
        fc.option(lead),
        mishaps,
        (keys, leads, usual, what) => {
          const service = serviceOf(keys, leads, usual);
          const { changes, points } = asked(service, what);
          expect({ changes, points }).toEqual(brute(service, what));
        },
      ),
      { numRuns: 24 },
    );
  });

  it('counts the bars of a page as it is written, not those of the song', () => {
    const page = partOf(2, major('F'), DORA, 'bass', { roles: ['lead voice', 'bass'] });
    expect(page.score.bars.length).toBeGreaterThan(SONGS[2]?.bars.length ?? Infinity);
  });

  it('leaves a song as it is where whoever leads it stays', () => {
    const service = serviceOf(['Eb', 'F', 'G'], ['Ruben', 'Ada', 'Ruben'], null);
    const { change } = asked(service, { Ada: { kind: 'away' } });
    expect(change.plan.lines.map(({ changed }) => changed.lead)).toEqual([false, true, false]);
    expect(change.plan.lines.map(({ lead }) => lead)).toEqual(['Ruben', 'Ruben', 'Ruben']);
  });

  it('writes no part to choose where nobody who leads is missing', () => {
    const fresh = newMemory();
    const change = new LeastChange(
      serviceOf(['F', 'F', 'F'], ['Ada', 'Ada', 'Ada'], null),
      { Dora: { kind: 'away' } },
      fresh,
    );
    expect(change.plan.lines).toHaveLength(3);
    expect(fresh.parts.built).toBe(0);
  });

  it('says bars by number, and that a page stays where a button is set', () => {
    const service = serviceOf(['F', 'F', 'F'], ['Ada', 'Ada', 'Ada'], null);
    const bass = new LeastChange(service, { Dora: { kind: 'away' } }, memory);
    const said = bass.pagesOf('line-0')?.pages.find(({ member }) => member === 'Joel');
    expect(said?.bars).toBe(barsWithoutBass(0, major('F'), JOEL));
    expect(said?.words === '' || /^Joel’s left hand/.test(said?.words ?? '')).toBe(true);
    const low = { kind: 'voice', range: { low: 'F3', high: 'G4' } } as const;
    const { change } = asked(service, { Ada: low, Ruben: { kind: 'away' } });
    const moved = change.plan.lines.filter(({ changed }) => changed.key);
    expect(moved.length).toBeGreaterThan(0);
    for (const { item, key, playedIn } of moved) {
      const marit = change.pagesOf(item)?.pages.find(({ member }) => member === 'Marit');
      expect(marit).toMatchObject({ kind: 'same', bars: 0 });
      expect(playedIn['Marit']).toBe('F');
      // What is read and what is set make what sounds.
      const amount = marit?.setting?.amount ?? 0;
      expect((pitchClassOf('F') + amount + 12) % 12).toBe(pitchClassOf(key.tonic));
      expect(marit?.words).toMatch(/^Marit: keyboard set to [+−]\d, the page stays in F$/);
    }
  });

  it('says where nobody is left who could lead', () => {
    const away = { kind: 'away' } as const;
    const { people, ...rest } = serviceOf(['F', 'F', 'F'], ['Ada', 'Ada', 'Ada'], null);
    const alone = people.filter(({ id }) => id === 'Ada' || id === 'Joel');
    const { plan } = new LeastChange({ ...rest, people: alone }, { Ada: away });
    expect(plan.people.map(({ id }) => id)).toEqual(['Joel']);
    expect(plan.lines.every((line) => line.lead === null)).toBe(true);
    expect(plan.problems[0]).toBe('Nobody is left who could lead “song 0”.');
  });
});
