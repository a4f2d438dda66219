import { success, type Problem, type Result } from '../result.ts';
import { says as saysIn } from '../pitch/says.ts';
import type { Score } from '../score/score.ts';
import { KEY, PRACTICE, RANGE, STRAIN } from '../voice/cautions.ts';
import { table } from '../voice/fit-table.ts';
import type { FitRow } from '../voice/fit-row.ts';
import type { Range } from '../voice/range.ts';
import type { Arrangement, Player, Team } from './arrangement.ts';
import { breathsIn, withBreaths } from './breaths.ts';
import { layOut } from './laid-out.ts';
import { sayOrder } from './order-words.ts';
import type { Part } from './part.ts';
import { marked, stretchesOf } from './singer-stretches.ts';
import {
  practiceVoice,
  sayFirstNote,
  sayNoVoice,
  sayTune,
  voiceDirections,
} from './singer-words.ts';
import { sayWrittenVoices, writtenVoiceFor, type WrittenVoice } from './written-voice.ts';

function fitOf(song: Score, player: Player, range: Range | null): FitRow | null {
  const key = song.keys[0]?.key;
  if (!range || !key) return null;
  const singer = { id: player.id, name: player.name, comfortable: range };
  return table(song, [singer], { keys: [key] }).rows[0] ?? null;
}

/**
 * The part of a singer: the tune with its words and breaths, and above it where it lies high or low in this very voice, by
 * the words of key fit. The introduction is not written out; the heading says after what to sing. A harmony voice gets
 * the written voice that lies best in this range (alto, tenor, bass), under the words of the tune; where there is none,
 * or nobody leads, the tune with a warning (`no-harmony-line`). Without a known range nothing is marked (`no-voice`).
 */
export function singer(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  team: Team,
): Result<Part> {
  const laidOut = layOut(score, arrangement, saysIn(player.names));
  if (!laidOut.ok) return laidOut;
  const { whole, introduction, count } = laidOut.value;
  const range = player.voice ?? null;
  // Where nobody leads, the harmony voices carry the tune.
  const harmony = player.role === 'harmony voice' && team.roles.includes('lead voice');
  const own = harmony && range ? writtenVoiceFor(laidOut.value.song, player.name, range) : null;
  const song = own?.song ?? laidOut.value.song;
  const row = own?.row ?? fitOf(song, player, range);
  const stretches = row && range ? stretchesOf(song, row, range) : [];
  const first = row?.perSection[0]?.octave ?? 'as written';
  const tune = withBreaths(marked(song, stretches), breathsIn(song));
  const melody = { ...tune, id: 'melody', group: 'Singer', staff: 1 };
  const introduced = introduction.spans.length > 0 && count.entry !== '';
  const says = saysIn(player.names);
  const part: Part = {
    role: player.role,
    level: player.level,
    score: { ...song, melody: 'melody', voices: [melody], chords: [] },
    shapes: [],
    moves: [],
    directions: voiceDirections(song, row, player, team),
    countIn: introduced ? count.entry : count.words,
    summary: [own ? sayOwn(own, player.name) : '', row?.reason ?? sayTune(song, says)]
      .join(' ')
      .trim(),
    order: sayOrder(whole),
    introduction: sayFirstNote({ ...laidOut.value, song }, first, says),
    practice: range ? practiceVoice(stretches, range, says) : [],
    cautions: cautionsFor(row, range).map(({ text }) => text),
  };
  return success(
    part,
    warningsFor(player, range, own ? null : harmony ? sayWrittenVoices(song) : ''),
  );
}

function cautionsFor(row: FitRow | null, range: Range | null) {
  const outside = row?.verdict === 'outside' || row?.verdict === 'edge';
  return [...(outside ? [KEY] : []), PRACTICE, STRAIN, ...(range ? [] : [RANGE])];
}

/** `This is the written tenor: of all that is written under the tune it lies best for Tomas.` */
function sayOwn({ name }: WrittenVoice, singer: string): string {
  return `This is the written ${name}: of what is written under the tune it lies best for ${singer}.`;
}

/** @param written what stands under the tune and is not sung here, empty: nothing; null: the player sings one of it */
function warningsFor(player: Player, range: Range | null, written: string | null): Problem[] {
  const warnings: Problem[] = [];
  if (player.role === 'harmony voice' && written !== null) {
    warnings.push({ code: 'no-harmony-line', message: sayNoLine(player.name, range, written) });
  }
  if (!range) warnings.push({ code: 'no-voice', message: sayNoVoice(player.name) });
  return warnings;
}

function sayNoLine(name: string, range: Range | null, written: string): string {
  const tune = `this is the tune, for ${name} to sing along`;
  if (written === '') return `There is no harmony line here: ${tune}.`;
  if (!range) return `Which of the written ${written} lies best for ${name} is not known: ${tune}.`;
  return `None of the written ${written} sits in the voice of ${name} in this key: ${tune}.`;
}
