import { Congregation, type Key, type OrderOptions, type OrderTeam, type SongToPlan } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

/** A team of our own invention: six who lead, from high to low, and a beginner's hands. */
const SINGERS = [
  ['A3', 'D5'],
  ['G3', 'C5'],
  ['B3', 'E5'],
  ['C3', 'E4'],
  ['A2', 'D4'],
  ['F2', 'B3'],
].map(([low = '', high = ''], i) => ({
  id: `voice-${i}`,
  name: `Voice ${i}`,
  comfortable: { low, high },
  limit: null,
}));
export const TEAM: OrderTeam = {
  singers: SINGERS,
  leads: SINGERS.map(({ id, name }) => ({ id, name })),
  congregation: Congregation.voice(Congregation.DEFAULT_GUIDELINE),
  player: { name: 'Ines', reach: 12 },
};
/** Any order, and a cap that leaves little choice. */
export const OPTIONS: OrderOptions = { order: 'free', most: 2 };
export const SONGS = HYMN_FILES.slice(0, 12).map((file, i): SongToPlan => {
  const score = hymn(file);
  const key = score.keys[0]?.key as Key;
  return {
    id: `line-${i}`,
    title: file,
    score,
    arrangement: { tempo: null, density: 'bar', form: null },
    usual: key,
    now: { key, lead: `voice-${i % 3}` },
  };
});
