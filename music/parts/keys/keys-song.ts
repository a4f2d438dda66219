import type { Result } from '../../result.ts';
import { failure, success } from '../../result.ts';
import type { Score, Section, Ticks } from '../../score/score.ts';
import { TEXTURES, type Player, type Team, type Texture } from '../arrangement.ts';
import { inSections } from '../bass/bass-notes.ts';
import { noChords, playedChords, type PlayedChord } from '../played-chords.ts';
import { rungsIn, type OwnRungs, type Rungs } from '../rungs.ts';
import type { PlacedEnding } from '../form/endings.ts';
import { textureIn, type WrittenOut } from '../form/written-out.ts';

/** A song as both hands of a keyboard player see it. */
export interface KeysSong {
  /** Written out, its introduction before it: see `writtenOut`. */
  readonly score: Score;
  /** As everybody plays them, in order, cut where a section begins. At least one. */
  readonly chords: readonly PlayedChord[];
  /** As the passes ask, never fuller than the player's rung. */
  readonly textureAt: (at: Ticks) => Texture;
  readonly rungsAt: (at: Ticks) => Rungs;
  readonly endings: readonly PlacedEnding[];
  readonly player: Pick<Player, 'name' | 'reach'>;
  /** Who else plays this week. */
  readonly team: Team;
}

/** Fails where there is no chord. */
export function keysSong(
  written: WrittenOut,
  player: Pick<Player, 'name' | 'reach'>,
  team: Team,
  usual: Rungs,
  own?: OwnRungs,
): Result<KeysSong> {
  const { score } = written;
  const chords = inSections(playedChords(score), score.sections);
  if (chords.length === 0) return failure(noChords(score));
  const sectionAt = (at: Ticks): Section | undefined =>
    score.sections.find(({ from, to }) => at >= from && at < to);
  const rungsAt = (at: Ticks): Rungs => {
    const section = sectionAt(at);
    return rungsIn(usual, own, section?.copyOf ?? section?.id ?? '');
  };
  const textureAt = (at: Ticks): Texture => notFuller(textureIn(written, at), rungsAt(at).texture);
  const endings = [...written.endings.values()];
  return success({ score, chords, textureAt, rungsAt, endings, player, team });
}

/** A texture, or the fullest that a rung has where it is fuller than that. */
export function notFuller(texture: Texture, rung: Rungs['texture']): Texture {
  return TEXTURES[Math.min(TEXTURES.indexOf(texture), rung - 1)] ?? 'held';
}
