import type { Problem } from '../result.ts';
import { tonesInHand } from '../hand/chord-in-hand.ts';
import { plan, type RightHandOptions } from '../hand/right-hand.ts';
import type { Shape } from '../hand/shape.ts';
import type { Chord } from '../pitch/chord.ts';
import { noteOf, pitchClassOf } from '../pitch/pitch.ts';
import { says as saysIn } from '../pitch/says.ts';
import type { ChordAt, Score } from '../score/score.ts';
import { barAt } from '../score/time.ts';
import type { Player } from './arrangement.ts';
import { listed } from '../score/number-words.ts';

/** How many notes of a chord the hand holds, one at least. */
export function notesWithin(
  chord: Chord,
  options: RightHandOptions & { readonly most: number },
): number {
  let most = options.most;
  while (most > 1 && !plan([chord], { ...options, most }).ok) most--;
  return most;
}

/** What a small hand does without: `B♭ (bar 1) without F; C7 (bar 3) without C and B♭`. */
export function leftOut(
  score: Score,
  player: Pick<Player, 'name' | 'reach' | 'names'>,
  played: readonly (ChordAt & { readonly chord: Chord })[],
  shapes: readonly Shape[],
): Problem {
  const said = new Map<string, string>();
  const says = saysIn(player.names);
  played.forEach(({ chord, at }, index) => {
    const name = says.chord(chord);
    const held = (shapes[index]?.notes ?? []).map((note) => pitchClassOf(noteOf(note)));
    const missing = tonesInHand(chord, 3).filter((tone) => !held.includes(pitchClassOf(tone)));
    if (said.has(name) || missing.length === 0) return;
    const { number, copyOf } = barAt(score, at);
    said.set(name, `${name} (${sayBar(number, copyOf)}) without ${listed(missing.map(says.note))}`);
  });
  return {
    code: 'notes-left-out',
    message: `A reach of ${player.reach} half steps does not hold every chord whole, so ${player.name} leaves notes out: ${[...said.values()].join('; ')}.`,
  };
}

/** The bar of the song, also where the chord first sounds in the introduction that repeats it. */
function sayBar(number: number, copyOf: number | undefined): string {
  return copyOf === undefined ? `bar ${number}` : `introduction, from bar ${copyOf}`;
}
