import { transpose } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { sayNote, type Key } from '../../pitch/key.ts';
import { keyForGuitar, type GuitarPosition } from '../../hand/key-for-guitar.ts';
import { say as sayPlayed } from '../../hand/played-key.ts';
import { sayPlayer, type PlayerCost } from '../../hand/player-cost.ts';
import { counted, listed, sayTimes } from '../../score/number-words.ts';
import type { Score } from '../../score/score.ts';
import { interval } from '../../score/transpose.ts';
import type { Player } from '../arrangement.ts';
import { playedChords } from '../played-chords.ts';

/** The capo sits as high as this where nobody says otherwise. */
const USUAL_CAPO = 5;

/**
 * What a key asks on the guitar at the best place for the capo: how often the hand goes to a barre chord. null where the
 * song has no chords.
 * @param read the song with its chords read once, in its own key
 */
export function guitarInKey(read: Score, player: Player, key: Key): PlayerCost | null {
  const home = read.keys[0]?.key;
  const chords = playedChords(read).map(({ chord }) => chord);
  if (!home || chords.length === 0) return null;
  const way = interval(home, key);
  const sounding = chords.map((chord): Chord => transpose(chord, way));
  const { best, positions } = keyForGuitar(sounding, key, player.instruments?.capo ?? USUAL_CAPO);
  const { id, name } = player;
  const who = sayPlayer({ name, role: 'guitar' });
  const none = positions[0];
  const without = none && none !== best ? ` Without a capo: ${sayBarre(none)}.` : '';
  return {
    player: id,
    name,
    role: 'guitar',
    ease: { value: best.barre, unit: 'barre changes' },
    finer: [best.barreChords.length, best.fret],
    plays: best.capo,
    phrase: `${sayCapo(best)}: ${sayBarre(best)}`,
    sentence: `${who}: ${best.capo ? best.capo.words : `no capo, shapes of ${sayPlayed(key)}`}; ${sayChanges(best)}.${without}`,
    items: best.barreChords.map(({ chord, times }) => ({
      words: `${sayNote(chord)} needs a barre, ${sayTimes(times)}`,
      cost: times,
    })),
    instead: null,
  };
}

const sayCapo = ({ fret, plays }: GuitarPosition): string =>
  fret === 0 ? 'no capo' : `capo ${fret}, shapes of ${sayPlayed(plays)}`;

/** `no barre chord`; `four changes to a barre chord: F♯m, B`. */
function sayBarre({ barre, barreChords }: GuitarPosition): string {
  if (barre === 0) return 'no barre chord';
  const names = listed(barreChords.map(({ chord }) => chord));
  return `${counted(barre, 'change', 'changes')} to a barre chord (${names})`;
}

function sayChanges({ changes, barre, barreChords }: GuitarPosition): string {
  if (barre === 0) return `all ${counted(changes, 'chord', 'chords')} of the song are open shapes`;
  const often = barreChords.map(({ chord, times }) => `${chord} ${sayTimes(times)}`);
  return `${changes - barre} of ${changes} chords are open shapes; with a barre: ${listed(often)}`;
}
