import { ENGLISH, type Says } from '../../pitch/says.ts';
import { numberWord } from '../../score/number-words.ts';
import type { Section, Ticks } from '../../score/score.ts';
import { barAt, barLength, feltBeat, meterAt } from '../../score/time.ts';
import type { Texture } from '../arrangement.ts';
import { sayBarList } from '../bar-list.ts';
import type { BassLine, BassNote } from './bass-line.ts';
import type { Footing } from './bass-pedal.ts';
import { middleOf, secondPlaceOf, type BassSong } from './bass-song.ts';
import { sayIntroduced } from '../directions.ts';
import { INTRODUCTION } from '../form/introduction.ts';
import { besideLinkIn, type LaidOut } from '../laid-out.ts';
import { sayLoop } from '../form/loop-words.ts';
import type { PartDirection } from '../part.ts';
import { sayEnding } from '../form/endings.ts';
import { sayOthersAt } from '../form/others-words.ts';
import { IN_SHORT, sayTexture } from '../form/textures.ts';
import type { WrittenOut } from '../form/written-out.ts';

/**
 * Beside each section: where the introduction is taken from, how the notes are struck where that is new, which of them stay
 * under new chords, and the passes that are played otherwise than they are written.
 */
export function bassDirections(
  { song, introduction, whole, link }: LaidOut,
  written: WrittenOut,
  bass: BassSong,
  { notes, footings }: BassLine,
  says: Says = ENGLISH,
): PartDirection[] {
  const { score, textures, endings } = written;
  let said: readonly string[] = [];
  return score.sections.map((section) => {
    const here = notes.filter(({ from }) => from >= section.from && from < section.to);
    const how = sayHow(bass, section, textures.get(section.id) ?? 'held', fromSongIn(here));
    const lines: string[] = [];
    if (section.id === INTRODUCTION) lines.push(sayIntroduced(song, introduction));
    lines.push(...besideLinkIn({ link, whole: score }, section));
    if (section.kind === 'vamp') lines.push(sayLoop(score, section, says));
    if (how.join() !== said.join()) lines.push(...how);
    said = how;
    lines.push(...sayStaying(bass, section, footings, says));
    const ending = endings.get(section.id);
    if (ending) lines.push(sayEnding(score, ending));
    const others = sayOthersAt(whole, written, section, SHORT_FOR_BASS);
    if (others.length > 0) said = [];
    lines.push(...others);
    return { section: section.id, words: lines };
  });
}

function fromSongIn(notes: readonly BassNote[]): FromSong {
  const own = notes.filter(({ written }) => written !== undefined);
  return own.length === 0 ? 'none' : own.length === notes.length ? 'all' : 'some';
}

/** The bass does not answer, sway or break: what it plays meanwhile. */
const SHORT_FOR_BASS: Readonly<Record<Texture, string>> = {
  ...IN_SHORT,
  answered: 'hold',
  swaying: 'with the bass of the keys',
  broken: 'every beat',
};

/** How much of a section is played from the bass that is written in the song. */
type FromSong = 'all' | 'some' | 'none';

const SONGS_OWN = 'the bass of the song';

function sayHow(bass: BassSong, section: Section, texture: Texture, fromSong: FromSong): string[] {
  const { score } = bass;
  const meter = meterAt(score, section.from);
  const full = barLength(meter);
  if (full === null) return [sayTexture(score, section, 'held')];
  const beat = (at: Ticks) => `${at / feltBeat(meter) + 1}`;
  const middle = middleOf(meter);
  const both = middle === null ? '1' : `1 and ${beat(middle)}`;
  const kick = bass.hasDrumsAt(section.from) ? [`with the kick on ${both}`] : [];
  const mode = bass.modeAt(section.from);
  if (mode === 'walking') {
    const strong = full >= 4 * feltBeat(meter) ? both : '1';
    return [
      `walk, a note on each of the ${numberWord(full / feltBeat(meter))} beats`,
      `chord notes on ${strong}; a step into each new chord`,
      ...kick,
    ];
  }
  const struck = sayStruck(bass, section, texture, both);
  if (mode === 'roots') return [struck, ...kick];
  const step = 'where there is a beat for it, a step into the next chord';
  if (fromSong !== 'none')
    return [struck, fromSong === 'all' ? SONGS_OWN : `${SONGS_OWN}, else root and fifth`, ...kick];
  return [
    [struck, sayFifth(bass, section, texture)].filter((words) => words !== '').join('; '),
    step,
    ...kick,
  ];
}

function sayFifth({ score }: BassSong, section: Section, texture: Texture): string {
  const meter = meterAt(score, section.from);
  const beat = feltBeat(meter);
  const second = secondPlaceOf(meter);
  if (texture === 'swaying' && barLength(meter) === 3 * beat)
    return 'root and fifth in turn, bar by bar';
  return second === null ? '' : `in a whole bar the fifth from ${second / beat + 1} on`;
}

function sayStruck({ score }: BassSong, section: Section, texture: Texture, both: string): string {
  const meter = meterAt(score, section.from);
  const inThree = barLength(meter) === 3 * feltBeat(meter);
  if (texture === 'swaying') return `strike on ${inThree ? '1' : both}; the chords come between`;
  const plain = texture === 'answered' ? 'held' : texture === 'broken' ? 'every beat' : texture;
  return sayTexture(score, section, plain);
}

/** `stays under a new chord: C in bars 3 and 4; G in bar 7`. */
function sayStaying(
  { score, chords }: BassSong,
  section: Section,
  footings: readonly Footing[],
  says: Says,
): string[] {
  const bars = new Map<string, ReturnType<typeof barAt>[]>();
  chords.forEach(({ at }, i) => {
    const footing = footings[i];
    if (!footing?.stays || at < section.from || at >= section.to) return;
    const note = says.note(footing.note);
    bars.set(note, [...(bars.get(note) ?? []), barAt(score, at)]);
  });
  if (bars.size === 0) return [];
  const each = [...bars].map(([note, list]) => `${note} in ${sayBarList(list)}`);
  return [`stays under a new chord: ${each.join('; ')}`];
}
