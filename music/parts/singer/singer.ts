import { success, type Problem, type Result } from '../../result.ts';
import { says as saysIn } from '../../pitch/says.ts';
import type { Score, Voice } from '../../score/score.ts';
import { KEY, PRACTICE, RANGE, STRAIN } from '../../voice/cautions.ts';
import { table } from '../../voice/fit-table.ts';
import type { FitRow } from '../../voice/fit-row.ts';
import type { Octave, Range } from '../../voice/range.ts';
import type { Arrangement, Player, Team } from '../arrangement.ts';
import { breathsIn, withBreaths } from './breaths.ts';
import { layOut } from '../laid-out.ts';
import { sayComesFrom, sayLinkToSingers } from '../link/link-words.ts';
import { inOrder, sayOrder } from '../form/order-words.ts';
import type { Part } from '../part.ts';
import { marked, stretchesOf } from './singer-stretches.ts';
import {
  practiceVoice,
  sayFirstNote,
  sayNoVoice,
  sayTune,
  voiceDirections,
} from './singer-words.ts';
import { secondVoiceFor, type NoSecondVoice, type SecondVoice } from './second-voice.ts';
import {
  nameSecondVoice,
  practiceLine,
  sayNoSecondVoice,
  saySecondVoice,
} from './second-voice-words.ts';
import { isAllUnison, withUnison } from './unison.ts';

function fitOf(song: Score, player: Player, range: Range | null, reads?: Octave): FitRow | null {
  const key = song.keys[0]?.key;
  if (!range || !key) return null;
  const singer = {
    id: player.id,
    name: player.name,
    comfortable: range,
    ...(reads ? { reads } : {}),
  };
  return table(song, [singer], { keys: [key], says: saysIn(player.names) }).rows[0] ?? null;
}

/**
 * The part of a singer: the tune with its words and breaths, and above it where it lies high or low in this very voice, by
 * the words of key fit. The introduction is not written out; the heading says after what to sing. A harmony voice gets
 * the written voice that lies best in this range (alto, tenor, bass), else a line made for it from the tune and its chords,
 * under the words of the tune; where there is none, or nobody leads, the tune with a warning (`no-harmony-line`). What is
 * sung in unison is the tune. Without a known range nothing is marked (`no-voice`).
 */
export function singer(
  score: Score,
  arrangement: Arrangement,
  player: Player,
  team: Team,
): Result<Part> {
  const says = saysIn(player.names);
  const laidOut = layOut(score, arrangement, says);
  if (!laidOut.ok) return laidOut;
  const { whole, introduction, count, link } = laidOut.value;
  const range = player.voice ?? null;
  const second = secondOf(laidOut.value.song, player, team);
  const own = typeof second === 'object' ? second : null;
  const song = own?.song ?? laidOut.value.song;
  // As `own.row` is, with its notes called as this singer calls them.
  const row = fitOf(song, player, range, own ? 'as written' : undefined);
  const stretches = row && range ? stretchesOf(song, row, range) : [];
  const first = row?.perSection[0]?.octave ?? 'as written';
  const sung = withBreaths(marked(song, stretches), breathsIn(song));
  const name = own ? 'Second voice' : sung.name;
  const melody = { ...sung, name, id: 'melody', group: 'Singer', staff: 1 };
  const introduced = introduction.spans.length > 0 && count.entry !== '';
  const part: Part = {
    role: player.role,
    level: player.level,
    ...(own ? { line: nameSecondVoice(own), printed: ['melody'] } : {}),
    score: {
      ...song,
      melody: 'melody',
      voices: own ? [melody, heardTune(own.tune)] : [melody],
      chords: [],
    },
    shapes: [],
    moves: [],
    directions: voiceDirections(song, row, player, team),
    countIn: introduced ? count.entry : count.words,
    summary: [
      own ? saySecondVoice(own, player.name, team.lead ?? null) : '',
      row?.reason ?? sayTune(song, says),
    ]
      .join(' ')
      .trim(),
    order: inOrder(
      sayComesFrom(arrangement.comesFrom, says),
      sayOrder(whole),
      sayLinkToSingers(link, team.roles, says),
    ),
    introduction: sayFirstNote({ ...laidOut.value, song }, first, says),
    practice: range
      ? [...practiceVoice(stretches, range, says), ...(own ? practiceLine(own, says) : [])]
      : [],
    cautions: cautionsFor(row, range).map(({ text }) => text),
  };
  return success(part, warningsFor(laidOut.value.song, player, range, second));
}

/** What a harmony voice sings beside the tune, or why it has the tune; null: it sings the tune as lead voices do. */
function secondOf(
  song: Score,
  { id, name, role, voice }: Player,
  team: Team,
): SecondVoice | NoSecondVoice | 'nobody leads' | 'no-range' | null {
  if (role !== 'harmony voice') return null;
  // Where nobody leads, the harmony voices carry the tune.
  if (!team.roles.includes('lead voice')) return 'nobody leads';
  const sung = withUnison(song);
  if (isAllUnison(sung)) return null;
  return voice ? secondVoiceFor(sung, { id, name, voice }, team) : 'no-range';
}

/** The tune as it is heard beside a second voice: without words, which stand under the line that is sung. */
function heardTune({ notes, ...tune }: Voice): Voice {
  return {
    ...tune,
    id: 'tune',
    name: 'Tune',
    group: 'Singer',
    staff: 2,
    notes: notes.map(({ syllables: _, ...note }) => note),
  };
}

function cautionsFor(row: FitRow | null, range: Range | null) {
  const outside = row?.verdict === 'outside' || row?.verdict === 'edge';
  return [...(outside ? [KEY] : []), PRACTICE, STRAIN, ...(range ? [] : [RANGE])];
}

function warningsFor(
  song: Score,
  { name }: Player,
  range: Range | null,
  second: ReturnType<typeof secondOf>,
): Problem[] {
  const warnings: Problem[] = [];
  if (typeof second === 'string') {
    const message = sayNoSecondVoice(song, name, second);
    warnings.push({ code: 'no-harmony-line', message });
  }
  if (!range) warnings.push({ code: 'no-voice', message: sayNoVoice(name) });
  return warnings;
}
