import { plusOctaves, transposePitch, type Interval } from '../pitch/interval.ts';
import { requirePitch } from '../pitch/pitch.ts';
import type { Says } from '../pitch/says.ts';
import { numberWord } from '../score/number-words.ts';
import type { Verdict } from './fit-row.ts';
import {
  END_SHARE,
  inMiddleHalf,
  type Bounds,
  type Figures,
  type Placed,
  type Stay,
} from './placed.ts';
import type { Singer } from './range.ts';
import { sayBeats, sayDistance } from './say-beats.ts';
import { FELT_BEAT } from './sung.ts';

/** All that a sentence about one voice in one key is made of. */
export interface Told {
  readonly singer: Singer;
  readonly interval: Interval;
  readonly placed: readonly Placed[];
  readonly bounds: Bounds;
  readonly figures: Figures;
  readonly verdict: Verdict;
  readonly says: Says;
}

type Side = 'high' | 'low';
/** Above every note there is. */
const TOP = 999;
/** What is heard at one pitch of a section. */
interface Heard {
  readonly stay: Stay;
  readonly midi: number;
  readonly place: Placed;
}

/** Why the verdict is what it is, in one sentence with bar, pitch and beats. Pitches are sounding. */
export function sayReason(told: Told): string {
  const { figures, verdict } = told;
  if (verdict === 'easy') return `Sits easily for ${who(told)}: ${ends(told)}.`;
  if (verdict === 'works') return `Works for ${who(told)}, ${works(told)}.`;
  const sides: Side[] = [];
  if (figures.above > 0) sides.push('high');
  if (figures.below > 0) sides.push('low');
  const only = verdict === 'edge';
  const word = only ? 'At the edge' : sides.length === 2 ? 'Too wide' : `Too ${sides[0] ?? 'high'}`;
  const parts = sides.map((side) => beyond(told, side));
  const rest = only && sides.length === 1 ? '; nothing else lies outside' : '';
  return `${word} for ${who(told)}: ${parts.join('; ')}${rest}.`;
}

function who({ singer, placed }: Told): string {
  const below = placed.filter(({ octave }) => octave === 'octave below');
  if (below.length === 0) return singer.name;
  if (below.length === placed.length) return `${singer.name} an octave down`;
  const [up, down] = [placed.filter((each) => !below.includes(each)), below].map((some) =>
    some.map(({ section }) => theSection(section.name)).join(' and '),
  );
  return `${singer.name} with ${down ?? ''} an octave down and ${up ?? ''} as written`;
}

/** `the refrain`, `verse 2`, `verses 1 and 3`; a name that is none of the known kinds stays as the source has it: `B`. */
function theSection(name: string): string {
  const known = /^(?:verses?|refrain|chorus|bridge|tag|intro|introduction|ending)\b/i;
  if (!known.test(name)) return `the section ${name}`;
  const said = name.replace(known, (kind) => kind.toLowerCase());
  return /\d/.test(said) ? said : `the ${said}`;
}

function heard({ placed }: Told, from: number, to: number): Heard[] {
  const found: Heard[] = [];
  for (const place of placed) {
    for (const stay of place.section.stays) {
      const midi = stay.midi + place.by;
      if (midi >= from && midi <= to) found.push({ stay, midi, place });
    }
  }
  return found;
}

/** The pitch with the note that stays longest; of equals the one further out, then the first section. */
function longest(notes: readonly Heard[], side: Side): Heard | undefined {
  const out = (each: Heard): number => (side === 'high' ? each.midi : -each.midi);
  return best(notes, (a, b) => a.stay.longest.felt - b.stay.longest.felt || out(a) - out(b));
}

/** The pitch furthest out; in several sections the one that stays longest, then the first. */
function furthest(notes: readonly Heard[], side: Side): Heard | undefined {
  const out = (each: Heard): number => (side === 'high' ? each.midi : -each.midi);
  return best(notes, (a, b) => out(a) - out(b) || a.stay.longest.felt - b.stay.longest.felt);
}

function best<T>(all: readonly T[], compare: (a: T, b: T) => number): T | undefined {
  return all.reduce<T | undefined>(
    (found, each) => (found === undefined || compare(each, found) > 0 ? each : found),
    undefined,
  );
}

function pitch({ interval, says }: Told, { stay, place }: Heard): string {
  const octave = place.octave === 'octave below' ? -1 : 0;
  return says.note(transposePitch(stay.pitch, plusOctaves(interval, octave)));
}

function bar({ stay: { longest } }: Heard): string {
  return longest.bar === 0 ? 'the pickup' : `bar ${longest.bar}`;
}

function verb({ stay: { longest } }: Heard): string {
  if (longest.felt < FELT_BEAT) return 'touches';
  return longest.felt < 2 * FELT_BEAT ? 'has' : 'holds';
}

function feltOf(notes: readonly Heard[]): number {
  return notes.reduce((sum, { stay }) => sum + stay.felt, 0);
}

/** `bar 7 holds E♭5 for five beats, a half step above D5, the highest that sits easily; the song is above it for …` */
function beyond(told: Told, side: Side): string {
  const { bounds, singer } = told;
  const outside =
    side === 'high' ? heard(told, bounds.high + 1, TOP) : heard(told, 0, bounds.low - 1);
  const held = longest(outside, side);
  const extreme = furthest(outside, side);
  if (!held || !extreme) throw new RangeError('nothing lies outside on this side');
  const [end, way, far] =
    side === 'high' ? ['highest', 'above', 'up'] : ['lowest', 'below', 'down'];
  const edge = side === 'high' ? bounds.high : bounds.low;
  const name = told.says.note(singer.comfortable[side]);
  let text = `${bar(held)} ${verb(held)} ${pitch(told, held)} for ${sayBeats(held.stay.longest.felt)}, `;
  text += `${sayDistance(held.midi - edge)} ${way} ${name}, the ${end} that sits easily`;
  if (extreme.midi !== held.midi)
    text += `, and ${bar(extreme)} goes ${far} to ${pitch(told, extreme)}`;
  return text + pastLimit(told, extreme, side) + inAll(told, outside, held, `${way} it`);
}

function pastLimit({ singer, says }: Told, extreme: Heard, side: Side): string {
  const limit = singer.limit?.[side];
  if (limit === undefined) return '';
  const { midi } = requirePitch(limit);
  const past = side === 'high' ? extreme.midi > midi : extreme.midi < midi;
  return past ? `, beyond ${says.note(limit)}, the furthest note ${singer.name} has` : '';
}

/** `; the refrain is above it for seven beats in all`, where one note is not all of it. */
function inAll(told: Told, notes: readonly Heard[], held: Heard, where: string): string {
  const all = feltOf(notes);
  if (all === held.stay.longest.felt) return '';
  if (told.placed.length === 1) return `; the song is ${where} for ${sayBeats(all)} in all`;
  const bySection = told.placed
    .map((place) => ({ place, felt: feltOf(notes.filter((each) => each.place === place)) }))
    .filter(({ felt }) => felt > 0);
  const most = best(bySection, (a, b) => a.felt - b.felt);
  if (!most) return '';
  const rest = all - most.felt;
  const others = rest > 0 ? `, the rest of the song for ${sayBeats(rest)}` : '';
  const { name } = most.place.section;
  const is = /^verses\b/i.test(name) ? 'are' : 'is';
  return `; ${theSection(name)} ${is} ${where} for ${sayBeats(most.felt)} in all${others}`;
}

/** `the highest note, C5, comes in bar 7 (five beats) with a step to spare, and the lowest, C4, in …` */
function ends(told: Told): string {
  const { bounds, figures } = told;
  const all = heard(told, 0, TOP);
  const [top, bottom] = [furthest(all, 'high'), furthest(all, 'low')];
  if (!top || !bottom) throw new RangeError('nothing is sung');
  const spare = (room: number): string =>
    (room === 0 ? 'no room' : sayDistance(room)) + ' to spare';
  const place = (each: Heard): string => `in ${bar(each)} (${sayBeats(each.stay.longest.felt)})`;
  const high = `the highest note, ${pitch(told, top)}, comes ${place(top)} with ${spare(bounds.high - figures.high)}`;
  const low = `the lowest, ${pitch(told, bottom)}, ${place(bottom)} with ${spare(figures.low - bounds.low)}`;
  return `${high}, and ${low}`;
}

function works(told: Told): string {
  const { bounds, figures } = told;
  const much = (time: number): boolean => time * END_SHARE.under >= figures.total * END_SHARE.over;
  const [top, bottom] = [much(figures.atTop), much(figures.atBottom)];
  if (top && bottom)
    return `filling the whole range: ${atEnd(told, 'high')}; ${atEnd(told, 'low')}`;
  if (top) return `but near the top: ${atEnd(told, 'high')}`;
  if (bottom) return `but near the bottom: ${atEnd(told, 'low')}`;
  if (inMiddleHalf(figures, bounds)) throw new RangeError('this is easy');
  return lying(told);
}

/** `bar 7 holds D5, the highest that sits easily, for five beats, and the song stays up there for seven of its 48` */
function atEnd(told: Told, side: Side): string {
  const { bounds, singer } = told;
  const near = side === 'high' ? heard(told, bounds.high - 1, TOP) : heard(told, 0, bounds.low + 1);
  const held = longest(near, side);
  if (!held) throw new RangeError('nothing lies at this end');
  const edge = side === 'high' ? bounds.high : bounds.low;
  const [end, way, there] =
    side === 'high' ? ['highest', 'below', 'up there'] : ['lowest', 'above', 'down there'];
  const easily = `the ${end} that sits easily`;
  const which =
    held.midi === edge
      ? easily
      : `a half step ${way} ${told.says.note(singer.comfortable[side])}, ${easily}`;
  const total = feltOf(heard(told, 0, TOP));
  const whole = total % FELT_BEAT === 0 ? numberWord(total / FELT_BEAT) : sayBeats(total);
  const all = feltOf(near);
  const text = `${bar(held)} ${verb(held)} ${pitch(told, held)}, ${which}, for ${sayBeats(held.stay.longest.felt)}`;
  return all === held.stay.longest.felt
    ? `${text} of the song’s ${whole}`
    : `${text}, and the song stays ${there} for ${sayBeats(all)} of its ${whole}`;
}

function lying(told: Told): string {
  const { bounds, figures } = told;
  const middle = (bounds.low + bounds.high) / 2;
  const off = figures.weighted / figures.total - middle;
  const side: Side = off > 0 ? 'high' : 'low';
  const held = longest(side === 'high' ? heard(told, middle, TOP) : heard(told, 0, middle), side);
  if (!held) throw new RangeError('nothing lies on this side of the middle');
  const way = side === 'high' ? 'above' : 'below';
  const far = sayDistance(Math.round(Math.abs(off)));
  return `but lying ${side}: on average ${far} ${way} the middle of the range; ${bar(held)} ${verb(held)} ${pitch(told, held)} for ${sayBeats(held.stay.longest.felt)}`;
}
