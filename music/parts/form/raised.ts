import type { Interval } from '../../pitch/interval.ts';
import { sameKey, usualSpelling, type Key } from '../../pitch/key.ts';
import { passesOf, unfold, type NamedPass } from '../../score/form.ts';
import type { Pass, Score, Section, Span, Ticks } from '../../score/score.ts';
import { splice, type Piece } from '../../score/splice.ts';
import { inForce } from '../../score/time.ts';
import { by, interval, score as transposed, stretch } from '../../score/transpose.ts';
import { raisedBy, upOf } from './keys-of-form.ts';

/** Passes through a section that are sung from the same notes. */
interface Group {
  readonly section: Section;
  /** Half steps above the key that the section has in the song. */
  readonly up: number;
  /** What is played, in order: the section, or where it has repeats or endings what they come to. */
  readonly spans: readonly Span[];
  readonly isPlayedOut: boolean;
  readonly passes: readonly NamedPass[];
  /** Place of the first of them in the form. */
  readonly first: number;
}

/** Half steps that a pass is still to be raised: a score that is raised already stays as it is. */
const upIn = ({ pass, section }: NamedPass): number => upOf(pass) - (section.up ?? 0);

/**
 * The song with every pass in the key that it is sung in. A section whose passes stand in different keys is written once
 * for each (`Section.up`, `copyOf`): as it is first sung in its place, and the others behind the song in the order in
 * which they are first sung, so that a last verse and refrain a step higher are read straight on. Passes point to their
 * copies; bars keep their numbers, and a copy that begins inside a bar begins with that part of it as its pickup. Repeats
 * and endings of such a section are played out, as endings belong to passes that no longer stand together.
 *
 * Each copy is moved whole by one interval to the usual spelling of its key. Where no pass is raised the song is returned
 * as it is. Words alone have no key: of such a song nothing is raised.
 */
export function raised(score: Score): Score {
  const passes = passesOf(score);
  if (passes.every((each) => upIn(each) === 0)) return score;
  if (score.untimed && score.chords.length === 0)
    return { ...score, form: passes.map(({ pass }) => withoutUp(pass)) };
  const groups = groupsOf(score, passes);
  const laid = laidOut(score, groups);
  const inKey = keysOf(score);
  const pieces = laid.map(({ section, group }): Piece[] => {
    if (!group) return [{ score, from: section.from, to: section.to, verses: null }];
    const { up, spans, isPlayedOut } = group;
    const isCopy = groups.filter((each) => each.section === section).length > 1;
    const verses = isCopy ? group.passes.map(({ pass }) => pass.verse) : null;
    return spans.map((span) => ({ ...span, score: inKey(section, up), verses, isPlayedOut }));
  });
  const { score: own, starts } = splice(score, pieces.flat());
  const ids = idsOf(laid);
  let place = 0;
  const sections = laid.map(({ section, group }, i): Section => {
    const mine = pieces[i] ?? [];
    const from = starts[place] ?? 0;
    place += mine.length;
    const to = from + mine.reduce((sum, piece) => sum + piece.to - piece.from, 0);
    const id = ids[i] ?? section.id;
    if (id === section.id) return { ...section, from, to };
    return { ...section, id, from, to, copyOf: section.copyOf ?? section.id, up: group?.up ?? 0 };
  });
  const idOf = (pass: NamedPass): string | undefined =>
    ids[laid.findIndex(({ group }) => group?.passes.includes(pass))];
  return {
    ...own,
    sections,
    form: passes.map((each): Pass => ({ ...each.pass, section: idOf(each) ?? each.section.id })),
    introduction: moved(score.introduction, pieces.flat(), starts),
  };
}

/**
 * The song in the key of a page that is read in another key than it sounds in (by capo or button): what is raised in it has
 * the usual spelling there too, D♭ major where moving alone would make C♯ major.
 */
export function onPage(score: Score, key: Key): Score {
  const moved = transposed(score, key);
  return moved.sections.reduce((page, section): Score => {
    const here = inForce(page.keys, section.from).key;
    const usual = usualSpelling(here);
    return !section.up || sameKey(here, usual)
      ? page
      : stretch(page, section, interval(here, usual));
  }, moved);
}

function withoutUp(pass: Pass): Pass {
  const { up: _, ...rest } = pass as Pass & { readonly up?: number };
  return rest;
}

const hasJumps = ({ bars }: Score, { from, to }: Span): boolean =>
  bars
    .filter(({ at, length }) => at < to && at + length > from)
    .some(({ repeatStart, repeatEnd, endings }) => repeatStart || repeatEnd || endings.length > 0);

function groupsOf(score: Score, passes: readonly NamedPass[]): Group[] {
  const stretches = unfold(score);
  const groups = new Map<string, Group>();
  passes.forEach((each, index) => {
    const { section } = each;
    const isRaised = passes.some((other) => other.section === section && upIn(other) !== 0);
    const isPlayedOut = isRaised && hasJumps(score, section);
    const played = stretches.filter((stretch) => stretch.index === index);
    const spans = isPlayedOut ? played.map(({ from, to }) => ({ from, to })) : [section];
    const up = upIn(each);
    const sign = JSON.stringify([section.id, up, spans.map(({ from, to }) => [from, to])]);
    const before = groups.get(sign);
    if (before) groups.set(sign, { ...before, passes: [...before.passes, each] });
    else groups.set(sign, { section, up, spans, isPlayedOut, passes: [each], first: index });
  });
  return [...groups.values()];
}

interface Laid {
  readonly section: Section;
  /** null: nobody plays the section. */
  readonly group: Group | null;
}

/** In the order of the page: each section in its place as it is first sung, then what comes in another key. */
function laidOut({ sections }: Score, groups: readonly Group[]): Laid[] {
  const behind: Group[] = [];
  const inPlace = sections.flatMap((section): Laid[] => {
    const own = groups.filter((each) => each.section === section);
    const [first] = own;
    if (!first) return [{ section, group: null }];
    behind.push(...own.filter(({ up }) => up !== first.up));
    return own.filter(({ up }) => up === first.up).map((group) => ({ section, group }));
  });
  behind.sort((a, b) => a.first - b.first);
  return [...inPlace, ...behind.map((group) => ({ section: group.section, group }))];
}

/** Sections that stand as they were keep their id; the others say how far they are moved. */
function idsOf(laid: readonly Laid[]): string[] {
  const taken = new Set(laid.map(({ section }) => section.id));
  return laid.map(({ section, group }): string => {
    if (!group || (group.up === 0 && !group.isPlayedOut)) return section.id;
    const way = group.up < 0 ? `down-${-group.up}` : `up-${group.up}`;
    const base = `${section.id}-${way}`;
    let id = base;
    for (let count = 2; taken.has(id); count += 1) id = `${base}-${count}`;
    taken.add(id);
    return id;
  });
}

/** The song moved as far as one of its sections asks, each way once. */
function keysOf(score: Score): (section: Section, up: number) => Score {
  const known = new Map<string, Score>();
  return (section, up) => {
    if (up === 0) return score;
    const distance: Interval = raisedBy(inForce(score.keys, section.from).key, up);
    const sign = `${distance.steps} ${distance.semitones}`;
    const found = known.get(sign) ?? by(score, distance);
    known.set(sign, found);
    return found;
  };
}

/** Where spans of the song stand now: in the first piece that has them. */
function moved(
  spans: readonly Span[],
  pieces: readonly Piece[],
  starts: readonly Ticks[],
): readonly Span[] {
  const found = spans.flatMap((span): Span[] => {
    const own: Span[] = [];
    let at = span.from;
    while (at < span.to) {
      const place = pieces.findIndex(({ from, to }) => at >= from && at < to);
      const piece = pieces[place];
      if (!piece) break;
      const end = Math.min(span.to, piece.to);
      const by = (starts[place] ?? 0) - piece.from;
      own.push({ from: at + by, to: end + by });
      at = end;
    }
    return own;
  });
  return joined(found);
}

function joined(spans: readonly Span[]): Span[] {
  const result: Span[] = [];
  for (const span of spans) {
    const last = result.at(-1);
    if (last?.to === span.from) result[result.length - 1] = { from: last.from, to: span.to };
    else result.push(span);
  }
  return result;
}
