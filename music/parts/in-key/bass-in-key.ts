import { sayNote, type Key } from '../../pitch/key.ts';
import { transposeNote } from '../../pitch/interval.ts';
import { keyForBass } from '../../hand/key-for-bass.ts';
import { sayPlayer, type PlayerCost } from '../../hand/player-cost.ts';
import { counted, listed, sayTimes } from '../../score/number-words.ts';
import type { Score } from '../../score/score.ts';
import { interval } from '../../score/transpose.ts';
import type { Player } from '../arrangement.ts';
import { bassOf } from '../bass/bass-pedal.ts';
import { playedChords } from '../played-chords.ts';

/**
 * What a key asks on the bass: the share of the time in which the note of the chord is no open string. null where the
 * song has no chords, or no time.
 * @param read the song with its chords read once, in its own key
 */
export function bassInKey(read: Score, player: Player, key: Key): PlayerCost | null {
  const home = read.keys[0]?.key;
  const played = playedChords(read);
  if (!home || read.untimed || played.length === 0) return null;
  const way = interval(home, key);
  const line = played.map((entry) => ({
    note: transposeNote(bassOf(entry), way),
    time: entry.length,
  }));
  const found = keyForBass(line, player.instruments?.bassStrings ?? 4);
  const { open, openTime, time, wide, below } = found;
  const { id, name } = player;
  const stopped = Math.round((100 * (time - openTime)) / time);
  const strings = listed(open.map(sayNote));
  const lies =
    open.length === 0
      ? 'no chord lies on an open string'
      : `open ${open.length === 1 ? 'string' : 'strings'} ${strings} for ${100 - stopped} % of the time`;
  const ways = wide === 0 ? '' : `; ${counted(wide, 'way', 'ways')} wider than a fifth`;
  const deep =
    below.length === 0
      ? ''
      : `; ${listed(below.map(sayNote))} an octave up, as four strings end on E`;
  return {
    player: id,
    name,
    role: 'bass',
    ease: { value: stopped, unit: 'per cent off open strings' },
    finer: [wide, below.length],
    plays: null,
    phrase: `${100 - stopped} % on open strings`,
    sentence: `${sayPlayer({ name, role: 'bass' })}: ${lies}${ways}${deep}.`,
    items: [
      { words: `${stopped} % of the time off open strings`, cost: stopped },
      ...(wide > 0 ? [{ words: `wider than a fifth ${sayTimes(wide)}`, cost: wide }] : []),
    ],
    instead: null,
  };
}
