import { barsChanged, sungBarsChanged } from '../../music/parts/bars-changed.ts';
import { joinCost } from '../../music/order/best/joins.ts';
import { weigh } from '../../music/order/best/weigh.ts';
import { peopleAfter, teamAfter } from '../../music/order/stands/after.ts';
import type {
  Mishaps,
  StandPerson,
  StandService,
  StandSong,
} from '../../music/order/stands/terms.ts';
import type { ArrangedPass, Player, Team } from '../../music/parts/arrangement.ts';
import type { Part, Role } from '../../music/parts/part.ts';
import { raisedKey } from '../../music/parts/form/keys-of-form.ts';
import { build } from '../../music/parts/parts.ts';
import { rungsFor } from '../../music/parts/rungs.ts';
import { sameKey, type Key } from '../../music/pitch/key.ts';
import { pitchClassOf } from '../../music/pitch/pitch.ts';
import type { Range } from '../../music/voice/range.ts';
import { hymn } from './hymn.ts';

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
export const JOEL = person('Joel', ['keys']);
const MARIT = person('Marit', ['keys'], {
  level: 'intermediate',
  instruments: { transposeButton: true },
});
const ELIAS = person('Elias', ['guitar'], { instruments: { capo: 5 } });
export const DORA = person('Dora', ['bass']);
const ADA = person('Ada', ['lead voice'], { comfortable: { low: 'A3', high: 'C5' } });
const RUBEN = person('Ruben', ['lead voice'], { comfortable: { low: 'C3', high: 'E4' } });
const WREN = person('Wren', ['harmony voice'], { comfortable: { low: 'G3', high: 'B4' } });
export const TEAM = [JOEL, MARIT, ELIAS, DORA, ADA, RUBEN, WREN];

export const SONGS = [
  'Amazing_Grace-New_Britain',
  'Abide_With_Me-Eventide',
  'Now_Thank_We_All_Our_God-Nun_Danket',
].map((name) => hymn(`${name}.abc`));
/** Half steps that each song goes up for its last pass: the pages of the last one are longer than the song. */
const UPS = [0, 1, 2] as const;
export const formOf = (at: number): ArrangedPass[] | null => {
  const form = SONGS[at]?.form ?? [];
  const up = UPS[at] ?? 0;
  return up === 0 ? null : form.map((pass, i) => (i < form.length - 1 ? pass : { ...pass, up }));
};
/** Points from the key that a song ends in to the one that the next begins in; none of them begins raised. */
export const joinAfter = (at: number, from: Key, to: Key): number =>
  joinCost(raisedKey(from, UPS[at] ?? 0), to, false).points;
export const major = (tonic: string): Key => ({ tonic, mode: 'major' });

const memo = new Map<string, Part>();
/** A part from the song itself, each once. */
export function partOf(at: number, key: Key, own: StandPerson, role: Role, team: Team): Part {
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
export function barsWithoutBass(at: number, key: Key, player: StandPerson): number {
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
export function brute(
  service: StandService,
  mishaps: Mishaps,
): { changes: number; points: number } {
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
        const joins = joinAfter(0, a.key, b.key) + joinAfter(1, b.key, c.key);
        const points = a.points + b.points + c.points + joins;
        if (changes < best.changes || (changes === best.changes && points < best.points))
          best = { changes, points };
      }
  return best;
}
