import type { HandPosition } from '../hand/left-hand.ts';
import { sayFinger } from '../hand/note-words.ts';
import { noteOf } from '../pitch/pitch.ts';
import { ENGLISH, type Says } from '../pitch/says.ts';
import type { Score, Section, Span } from '../score/score.ts';
import { barAt, barLength, meterAt } from '../score/time.ts';
import type { HandsPlan, HeldChord } from './hands-plan.ts';
import type { HandRemark } from './keys/hand-line.ts';
import { INTRODUCTION, type Introduction } from './form/introduction.ts';
import { passesOf } from '../score/form.ts';
import { counted, listed } from '../score/number-words.ts';
import { besideLinkIn } from './laid-out.ts';
import { isLink, type Link } from './link/link.ts';
import { sayLoop } from './form/loop-words.ts';
import type { PartDirection } from './part.ts';
import { sayHeldEnding } from './form/endings.ts';
import { alikeIn, firstTexture, namePasses, sameTextureIn, sayOthers } from './form/textures.ts';

/** More bars than this are counted, not listed: the margin is narrow. */
const MOST_BARS = 4;

/**
 * What stands in the margin beside each section: a few short lines, each in the first section that needs it and not again
 * while it holds. The first rung holds its chords; the passes in which the others do not are named.
 * @param song without the introduction; `whole` with it
 * @param forTheBass what a bass player changes, said beside the first section that has it
 * @param link how the music goes on, said beside the bars that lead there
 */
export function directions(
  song: Score,
  whole: Score,
  plan: HandsPlan,
  introduction: Introduction,
  forTheBass: HandRemark | null = null,
  says: Says = ENGLISH,
  link: Link | null = null,
): PartDirection[] {
  const said = new Set<string>();
  return whole.sections.map((section) => {
    const lines = isLink(section)
      ? [...besideLinkIn({ link, whole }, section), sayLoop(whole, section, says)]
      : section.id === INTRODUCTION
        ? [sayIntroduced(song, introduction), sayOthers(whole, section, firstTexture(whole))]
        : [
            forTheBass && section.to > forTheBass.at ? forTheBass.words : '',
            sayLoop(whole, section, says),
            ...inSection(whole, plan, section, says),
            ...whileOthers(whole, section),
            ...endingsOf(whole, section),
          ];
    const words = lines.filter((line) => line !== '' && !said.has(line));
    for (const line of words) said.add(line);
    return { section: section.id, words };
  });
}

/** `bars 13–16; the singers rest`. */
export function sayIntroduced(song: Score, { spans }: Introduction): string {
  const said = spans.map(({ from, to }: Span) => {
    const [first, last] = [barAt(song, from).number, barAt(song, to - 1).number];
    return first === last ? `bar ${first}` : `bars ${first}–${last}`;
  });
  return `${said.join(', then ')}; the singers rest`;
}

function inSection(score: Score, plan: HandsPlan, section: Section, says: Says): string[] {
  const held = plan.held.filter(({ from, to }) => from < section.to && to > section.from);
  if (held.length === 0) return ['the hands rest'];
  const free = barLength(meterAt(score, section.from)) === null;
  const again = free ? 'hold; strike again at each bar line' : 'hold; strike again on 1';
  return [again, sayLeft(score, plan, held, says)].filter((line) => line !== '');
}

/** `verse 4: the others play on every beat; you hold`, for each texture that the passes of a section have. */
function whileOthers(score: Score, section: Section): string[] {
  return sameTextureIn(passesOf(score), section).flatMap(({ texture, passes }) => {
    const words = sayOthers(score, section, texture);
    return words === '' ? [] : [`${namePasses(passes).toLocaleLowerCase()}: ${words}`];
  });
}

/** `verse 4: quiet ending: from bar 13 softer; hold the last chord until all let go`. */
function endingsOf(score: Score, section: Section): string[] {
  return alikeIn(passesOf(score), section).flatMap(({ ending, passes }) =>
    ending === null
      ? []
      : [`${namePasses(passes).toLocaleLowerCase()}, ${sayHeldEnding(score, section, ending)}`],
  );
}

/** `left hand stays: 5 on F, 2 on B♭, thumb on C`; where it shifts: `left hand: 5 on G; shifts in bars 3 and 7`. */
function sayLeft(score: Score, plan: HandsPlan, held: readonly HeldChord[], says: Says): string {
  const [from, to] = [
    plan.held.indexOf(held[0] as HeldChord),
    plan.held.indexOf(held.at(-1) as HeldChord),
  ];
  const [first, ...others] = plan.positions.filter((each) => each.from <= to && each.to >= from);
  if (!first) return '';
  if (others.length === 0)
    return `left hand stays: ${first.keys.map((key) => sayKey(key, says)).join(', ')}`;
  const start = first.keys[0];
  const begin = start ? `left hand: ${sayKey(start, says)}` : 'left hand';
  const bars = others.map((each) => barAt(score, (plan.held[each.from] as HeldChord).from).number);
  return `${begin}; ${sayShifts(bars)}`;
}

function sayKey({ note, finger }: HandPosition['keys'][number], says: Says): string {
  return `${sayFinger(finger)} on ${says.note(noteOf(note))}`;
}

function sayShifts(bars: readonly number[]): string {
  const names = [...new Set(bars)].map(String);
  if (names.length > MOST_BARS)
    return `${counted(bars.length, 'shift', 'shifts')}, the first in bar ${names[0] ?? ''}`;
  return `shifts in ${names.length === 1 ? 'bar' : 'bars'} ${listed(names)}`;
}
