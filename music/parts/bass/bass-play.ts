import type { Score, Section } from '../../score/score.ts';
import type { ArrangedPass, Player, Team, Texture } from '../arrangement.ts';
import { bassLine, type BassNote } from './bass-line.ts';
import { bassSong, rungOf, type BassSong } from './bass-song.ts';
import { writtenOut, type PlayOf } from '../form/written-out.ts';

interface Played {
  readonly song: BassSong;
  readonly notes: readonly BassNote[];
}

/**
 * What the bass has in each texture, found by building its line with every pass in that texture. On the first rung all
 * textures are written alike: they differ only in how often a note is struck, which is said. Above it what counts is where
 * each note is struck; on the chord with which the song ends only that it sounds.
 * @param whole as it is arranged, before it is written out
 */
export function bassPlayIn(whole: Score, player: Player, team: Team): PlayOf {
  const known = new Map<Texture, Played | null>();
  const playedIn = (texture: Texture): Played | null => {
    const before = known.get(texture);
    if (before !== undefined) return before;
    const form = whole.form.map((pass): ArrangedPass => {
      const { ending: _, ...plain } = pass as ArrangedPass;
      return { ...plain, texture };
    });
    const song = bassSong(writtenOut({ ...whole, form }), player, team);
    const played = song.ok ? { song: song.value, notes: bassLine(song.value).notes } : null;
    known.set(texture, played);
    return played;
  };
  return (section, texture) => {
    const played = playedIn(texture);
    if (!played) return { written: texture, played: texture };
    const isFirst = (player.rungs?.sections?.[section.id]?.bass ?? rungOf(player)) === 1;
    const struck = said(played, section, ({ chord }) => chord === played.song.last);
    return { written: isFirst ? said(played, section, () => true) : struck, played: struck };
  };
}

/** @param sounds whether a note that is only struck again counts as one with that before it */
function said({ notes }: Played, section: Section, sounds: (note: BassNote) => boolean): string {
  const here = notes.filter(({ from }) => from >= section.from && from < section.to);
  return here
    .filter((note, i) => !sounds(note) || note.pitch !== here[i - 1]?.pitch)
    .map(({ from, pitch }) => `${from} ${pitch}`)
    .join(', ');
}
