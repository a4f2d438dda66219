import { soundsLike } from '../key-ways.ts';
import type { OrderTeam, SongToPlan } from './terms.ts';
import { weigh, type WeighedSong } from './weigh.ts';

/**
 * A song as it is weighed whatever stands in the order now: nothing pinned, nobody named. Songs that are alike in this are
 * weighed once, and `withPins` puts the rest back.
 */
export function bareOf(song: SongToPlan): SongToPlan {
  const { title, score, arrangement, usual } = song;
  return { id: '', title, score, arrangement, usual, now: { key: usual, lead: null } };
}

/**
 * The ways of a song that its pins leave, of those it was weighed in by itself, so that pinning what was chosen changes no
 * points. The key that it stands in keeps its spelling. Where the pins leave none of them (a lead who is not comfortable, or
 * not asked), the song is weighed for them alone.
 * @param bare `weigh(bareOf(song), team)`
 */
export function withPins(song: SongToPlan, bare: WeighedSong, team: OrderTeam): WeighedSong {
  const { now, pinned = {} } = song;
  const ways = bare.ways
    .map((way) => (soundsLike(way.key, now.key) ? { ...way, key: now.key } : way))
    .filter(({ key }) => !pinned.key || key === now.key)
    .filter(({ lead }) => !pinned.lead || lead === now.lead);
  return ways.length > 0 ? { ...bare, ways } : weigh(song, team);
}
