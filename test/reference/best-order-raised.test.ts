import { describe, expect, it } from 'vitest';
import {
  KeyFit,
  ORDER_PRICES,
  Pitches,
  ServiceOrder,
  type ArrangedPass,
  type Key,
  type OrderTeam,
  type Score,
  type SongToPlan,
} from '#music';
import { hymn } from '#test/support/hymn.ts';

const G: Key = { tonic: 'G', mode: 'major' };
const major = (tonic: string): Key => ({ tonic, mode: 'major' });
const ADA = { id: 'ada', name: 'Ada', comfortable: { low: 'A3', high: 'D5' }, limit: null };
const BO = { id: 'bo', name: 'Bo', comfortable: { low: 'C3', high: 'E4' }, limit: null };
const team = (...singers: (typeof ADA)[]): OrderTeam => ({
  singers,
  leads: singers.map(({ id, name }) => ({ id, name })),
  congregation: null,
  player: null,
});

const verses = (score: Score, ups: readonly number[]): ArrangedPass[] =>
  ups.map((up, i) => ({
    section: score.sections[0]?.id ?? '',
    verse: i + 1,
    ...(up === 0 ? {} : { up }),
  }));

function songOf(file: string, ups: readonly number[], more: Partial<SongToPlan> = {}): SongToPlan {
  const score = hymn(file);
  const key = score.keys[0]?.key as Key;
  return {
    id: file,
    title: file,
    score,
    arrangement: { tempo: null, density: 'bar', form: verses(score, ups) },
    usual: key,
    now: { key, lead: 'ada' },
    ...more,
  };
}

const NEW_BRITAIN = 'Amazing_Grace-New_Britain.abc';
const NUN_DANKET = 'Now_Thank_We_All_Our_God-Nun_Danket.abc';
const AZMON = 'O_For_A_Thousand_Tongues-Azmon.abc';

const MAJOR = [0, 2, 4, 5, 7, 9, 11];
const classOf = ({ tonic }: Key): number => Pitches.midiOf(`${tonic}4`) % 12;

/** The seven triads of the major scale on a pitch class, stacked in thirds; no code of the program’s. */
function triadsOf(root: number): Set<string> {
  const scale = MAJOR.map((step) => (root + step) % 12);
  const triads = scale.map((_, i) => [0, 2, 4].map((third) => scale[(i + third) % 7] ?? 0));
  return new Set(triads.map((triad) => triad.sort((a, b) => a - b).join(' ')));
}

function joinPoints(from: number, to: number): number {
  const theirs = triadsOf(to);
  const shared = [...triadsOf(from)].filter((triad) => theirs.has(triad)).length;
  if (shared === 7) return 0;
  if (shared >= 4) return ORDER_PRICES.joinNear;
  return shared > 0 ? ORDER_PRICES.joinSome : ORDER_PRICES.joinNone;
}

describe('A hymn with its last verse up a whole step', () => {
  it('is not given in G to a lead whose highest note is D5, who leads it there without', () => {
    // The printed tune goes to D5 in G (Open Hymnal Project, bar 7), so up a whole step to E5.
    const inG = (ups: number[]) =>
      ServiceOrder.weigh(songOf(NEW_BRITAIN, ups), team(ADA)).ways.some(
        ({ key }) => key.tonic === 'G',
      );
    expect(inG([0, 0, 0, 0])).toBe(true);
    expect(inG([0, 0, 0, 2])).toBe(false);
  });

  it('no key is proposed in which any pass lies outside for whoever leads', () => {
    const song = songOf(NEW_BRITAIN, [0, 0, 0, 2]);
    const { ways, relaxed } = ServiceOrder.weigh(song, team(ADA, BO));
    expect(relaxed).toBeNull();
    for (const { key, lead } of ways) {
      const form = song.arrangement.form ?? null;
      const { passes } = KeyFit.passes(song.score, [ADA, BO], key, { form });
      for (const { voices } of passes)
        expect(voices.find(({ voice }) => voice === lead)?.verdict).not.toBe('outside');
    }
  });

  it('costs whoever leads it in G all the same its price, and says in which verse', () => {
    const pinned = { pinned: { key: true, lead: true } };
    const costs = (ups: number[]) =>
      ServiceOrder.weigh(songOf(NEW_BRITAIN, ups, pinned), team(ADA)).ways[0]?.costs;
    const [lead] = costs([0, 0, 0, 2]) ?? [];
    expect(lead?.words).toMatch(/^In verse 4, up a whole step, too high for Ada: bar 7 holds E5/);
    // 7 of the 48 quarters of the tune (counted on the sheet), and the prices of a lead outside whom nobody replaces.
    const least =
      Math.round((ORDER_PRICES.leadOutside * 7) / 48) +
      ORDER_PRICES.leadAtEdge +
      ORDER_PRICES.leadBeyond;
    expect(lead?.points).toBeGreaterThanOrEqual(least);
    expect(costs([0, 0, 0, 0])?.[0]?.points ?? 0).toBeLessThan(ORDER_PRICES.leadAtEdge);
  });

  it('is joined to the next song from the key that it ends in, and from the one before to that it begins in', () => {
    const pinned = { key: true, lead: true, place: true };
    const first = songOf(NEW_BRITAIN, [0, 0, 0, 2], { pinned, now: { key: G, lead: 'ada' } });
    const now = { key: major('Bb'), lead: 'ada' };
    const second = songOf(NUN_DANKET, [0, 1], { id: 'second', pinned, now });
    const join = (songs: SongToPlan[]) =>
      ServiceOrder.best(songs, team(ADA), { order: 'kept' }).plans[0]?.lines[1]?.costs.find(
        ({ kind }) => kind === 'join',
      );
    // A major has three sharps and B flat major two flats: no triad of seven is in both (counted by `joinPoints`).
    expect(join([first, second])).toMatchObject({ points: joinPoints(9, 10) });
    expect(join([first, second])?.words).toBe(
      'A, where the song before ends, to B♭: no chord is in both keys',
    );
    // The other way round: B flat raised a half step is B, to G.
    expect(join([second, first])).toMatchObject({ points: joinPoints(11, 7) });
    const early = { ...first, arrangement: { ...first.arrangement, form: verses(first.score, [2, 0]) } }; // prettier-ignore
    expect(join([second, early])?.points).toBe(joinPoints(11, 9));
    expect(join([second, early])?.words).toMatch(
      /^B, where the song before ends, to A, where this one begins: /,
    );
  });
});

describe('The best order of hymns that change key', () => {
  const UPS: readonly (readonly number[])[] = [
    [0, 0, 2],
    [0, 1],
    [-2, 0, 3],
  ];
  const SONGS = [NEW_BRITAIN, NUN_DANKET, AZMON].map((file, i) => songOf(file, UPS[i] ?? []));
  const TEAM = team(ADA, BO);

  it('costs what an enumeration of all orders, keys and leads finds, proved', () => {
    const ways = SONGS.map((song) =>
      ServiceOrder.weigh(ServiceOrder.bareOf(song), TEAM).ways.map(({ key, costs }) => ({
        at: classOf(key),
        points: costs.reduce((sum, each) => sum + each.points, 0),
      })),
    );
    const sung = (song: number, at: number, pass: 0 | -1): number =>
      (at + (UPS[song]?.at(pass) ?? 0) + 12) % 12;
    let least = Infinity;
    const walk = (taken: readonly number[], end: number | null, points: number): void => {
      if (taken.length === SONGS.length) least = Math.min(least, points);
      for (const song of SONGS.keys()) {
        if (taken.includes(song)) continue;
        for (const way of ways[song] ?? []) {
          const join = end === null ? 0 : joinPoints(end, sung(song, way.at, 0));
          walk([...taken, song], sung(song, way.at, -1), points + way.points + join);
        }
      }
    };
    walk([], null, 0);
    const { plans, proof } = ServiceOrder.best(SONGS, TEAM, { order: 'free' });
    expect(plans[0]?.total).toBe(least);
    expect(proof).toMatchObject({ optimal: true, bound: least });
  });
});
