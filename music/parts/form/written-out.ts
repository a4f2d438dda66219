import { passesOf } from '../../score/form.ts';
import type { Pass, Score, Section, Ticks } from '../../score/score.ts';
import { ownNameOf } from '../../score/pass-names.ts';
import { splice, type Piece } from '../../score/splice.ts';
import { INTRODUCTION } from './introduction.ts';
import type { Texture } from '../arrangement.ts';
import { placeEnding, type PlacedEnding } from './endings.ts';
import { alikeIn, endingOf, firstTexture, namePasses, stepOf, type Alike } from './textures.ts';

/** A score whose sections stand once or twice, by how they are played. */
export interface WrittenOut {
  readonly score: Score;
  /** How each section of `score` is written, by its id. */
  readonly textures: ReadonlyMap<string, Texture>;
  /** The last phrase of a section where it is written as the ending of its pass, by its id. */
  readonly endings: ReadonlyMap<string, PlacedEnding>;
  /** Passes through a section that are played otherwise than it is written, by its id: said in words there. */
  readonly others: ReadonlyMap<string, readonly Alike[]>;
}

/** What is played at a moment: the texture of its section, in an ending that of the ending. */
export function textureIn({ score, textures, endings }: WrittenOut, at: Ticks): Texture {
  const section = score.sections.find(({ from, to }) => at >= from && at < to)?.id ?? '';
  const ending = endings.get(section);
  if (ending && at >= ending.from) return ending.texture;
  return textures.get(section) ?? 'held';
}

/**
 * What a player's part has in a section in a texture: two textures that are `written` alike need no second copy, and
 * where they are `played` alike too, nothing is said of the other.
 */
export type PlayOf = (
  section: Section,
  texture: Texture,
) => { readonly written: string; readonly played: string };

const byTexture: PlayOf = (_, texture) => ({ written: texture, played: texture });

type Signs = Readonly<Record<keyof ReturnType<PlayOf>, (group: Alike) => string>>;

/** An ending is always written, and played otherwise. */
function signsIn(section: Section, playOf: PlayOf): Signs {
  return {
    written: ({ texture, ending }) => `${ending ?? ''} ${playOf(section, texture).written}`,
    played: ({ texture, ending }) => `${ending ?? ''} ${playOf(section, texture).played}`,
  };
}

interface Copy {
  readonly section: Section;
  /** As it is written; null: nobody plays it, or it is the introduction. */
  readonly alike: Alike | null;
  /** Groups that are read from it and played otherwise. */
  readonly others: readonly Alike[];
  /** Its section where the song is written out, still on the time line of the song. */
  readonly as: Section;
}

/**
 * Where the passes through a section differ in texture or ending it is written out twice, one after the other in its
 * place: as its first pass is played, and as the fullest of its other groups is; before the fullest comes a group with an
 * ending, the last one. Of as full ones the first counts. More would be a long sheet to turn and not to learn from
 * (ours): any other group reads the copy whose texture is nearest to its own, of as near ones that without an ending that
 * it has not, then the first; `others` names it there, so that what it plays is said in words.
 *
 * A section that begins or ends inside a bar, that has repeats or endings (they belong to its passes), or that is one
 * bar stays as it is: it is written as its first pass is played, and `others` names the rest.
 * @param playOf what the player has in each texture; missing: each has notes of its own
 */
export function writtenOut(score: Score, playOf: PlayOf = byTexture): WrittenOut {
  const passes = passesOf(score);
  const copies = score.sections.flatMap((section): Copy[] => {
    const groups = alikeIn(passes, section);
    const [first] = groups;
    if (!first) return [{ section, alike: null, others: [], as: section }];
    const signs = signsIn(section, playOf);
    const unlike = groups.filter((group) => signs.written(group) !== signs.written(first));
    const second = canStandTwice(score, section) ? secondOf(unlike) : undefined;
    if (second) return copiesOf(section, groups, signs, first, second);
    const others = groups.filter((group) => signs.played(group) !== signs.played(first));
    return [{ section, alike: first, others, as: section }];
  });
  const changed = copies.length > score.sections.length;
  const own = changed ? spliced(score, copies) : score;
  const placed = own.sections.flatMap((section, i): [string, PlacedEnding][] => {
    const { alike, others: more, section: source } = copies[i] as Copy;
    if (!alike?.ending) return [];
    const { ending, texture } = alike;
    // Where others read the section too, it is said which passes end so.
    const ended = alike.passes.filter(({ pass }) => endingOf(pass) === ending);
    const who = more.length > 0 ? namePasses(ended) : '';
    // Where its phrases end is read in the song, so that all copies and all players agree.
    const found = placeEnding(score, source, { ending, texture });
    const moved = section.from - source.from;
    return found ? [[section.id, { ...found, who, from: found.from + moved, to: section.to }]] : [];
  });
  const endings = new Map(placed);
  const textures = copies.map(({ as, alike }): [string, Texture] => [
    as.id,
    as.id === INTRODUCTION ? firstTexture(score) : (alike?.texture ?? 'held'),
  ]);
  const others = copies.flatMap(({ as, alike, others: more }): [string, readonly Alike[]][] => {
    // An ending that cannot stand in notes is said.
    const said = alike?.ending && !endings.has(as.id) ? [alike, ...more] : more;
    return said.length > 0 ? [[as.id, said]] : [];
  });
  return { score: own, textures: new Map(textures), endings, others: new Map(others) };
}

/** Which of the groups after the first is written out; undefined: there is none. */
function secondOf(groups: readonly Alike[]): Alike | undefined {
  const ends = groups.findLast(({ ending }) => ending !== null);
  const most = Math.max(...groups.map(({ texture }) => stepOf(texture)));
  return ends ?? groups.find(({ texture }) => stepOf(texture) === most);
}

function copiesOf(
  section: Section,
  groups: readonly Alike[],
  signs: Signs,
  ...written: readonly [Alike, Alike]
): Copy[] {
  const farFrom = (group: Alike, copy: Alike): number =>
    2 * Math.abs(stepOf(group.texture) - stepOf(copy.texture)) +
    (copy.ending !== null && copy.ending !== group.ending ? 1 : 0);
  const readFrom = (group: Alike): Alike => {
    const [first, second] = written;
    const same = written.find((copy) => signs.written(copy) === signs.written(group));
    if (same) return same;
    return farFrom(group, second) < farFrom(group, first) ? second : first;
  };
  return written.map((alike, k): Copy => {
    const read = groups.filter((group) => readFrom(group) === alike);
    const passes = read.flatMap((group) => group.passes);
    const inOrder = groups.flatMap((group) => group.passes).filter((pass) => passes.includes(pass));
    inOrder.sort((a, b) => a.time - b.time);
    return {
      section,
      alike: { ...alike, passes: inOrder },
      others: read.filter((group) => signs.played(group) !== signs.played(alike)),
      as: {
        ...section,
        id: `${section.id}-${k + 1}`,
        // A copy in another key is named where it is printed (`printedName`).
        ...(section.up === undefined && { name: namePasses(inOrder), ownName: ownNameOf(section) }),
        copyOf: section.copyOf ?? section.id,
      },
    };
  });
}

function canStandTwice({ bars }: Score, { from, to }: Section): boolean {
  const own = bars.filter((bar) => bar.at < to && bar.at + bar.length > from);
  const [first, last] = [own[0], own.at(-1)];
  return (
    own.length > 1 &&
    first?.at === from &&
    last !== undefined &&
    last.at + last.length === to &&
    own.every(
      ({ repeatStart, repeatEnd, endings }) => !repeatStart && !repeatEnd && endings.length === 0,
    )
  );
}

/** One copy after another on a new time line. */
function spliced(score: Score, copies: readonly Copy[]): Score {
  const pieces = copies.map(({ section, alike, as }): Piece => {
    const { from, to } = section;
    const verses = alike && as !== section ? alike.passes.map(({ pass }) => pass.verse) : null;
    return { score, from, to, verses, isApart: true };
  });
  const { score: own, starts } = splice(score, pieces);
  const sections = copies.map(({ section, as }, i): Section => {
    const from = starts[i] ?? 0;
    return { ...as, from, to: from + section.to - section.from };
  });
  return {
    ...own,
    sections,
    form: passesOf(score).map(({ pass }): Pass => {
      const copy = copies.find(
        ({ alike, as, section }) =>
          as !== section &&
          section.id === pass.section &&
          alike?.passes.some((each) => each.pass === pass),
      );
      return copy ? { ...pass, section: copy.as.id } : pass;
    }),
    introduction: [],
  };
}
