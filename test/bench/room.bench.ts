import { Keys, Room, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { compare, type Row } from './measure.ts';

/** A key pressed again before the screen has answered is felt as lag: one frame of a screen at 60 Hz. */
const FRAME = 1000 / 60;
const GROUPS = 6;

/** All that the page works out anew where another key or number of people is chosen: twelve keys, and every note of one. */
function pictureOf(score: Score, room: Room.RoomShares): number {
  const rows = Room.inKeys(score, Keys.keysToOffer('major'), room);
  const [first] = rows;
  return first ? Room.notesIn(score, first.key, room).length : 0;
}

/** The bare work: the shares of twelve keys, summed note by note from a table of pitches, for the room and each group. */
function kernel(midis: Int32Array, ticks: Int32Array, shares: Float64Array): number {
  let all = 0;
  for (let key = 0; key < 12; key += 1) {
    for (let group = 0; group < GROUPS; group += 1) {
      let [sum, time] = [0, 0];
      for (let i = 0; i < midis.length; i += 1) {
        sum += (ticks[i] as number) * (shares[(midis[i] as number) + key] as number);
        time += ticks[i] as number;
      }
      all += sum / time;
    }
  }
  return all;
}

export async function bench(): Promise<Row[]> {
  const score = hymn('Amazing_Grace-New_Britain.abc');
  const notes = Room.notesIn(score, { tonic: 'G', mode: 'major' }, Room.USUAL_ROOM);
  const midis = Int32Array.from(notes, (_, i) => 60 + (i % 13));
  const ticks = Int32Array.from(notes, ({ length }) => length);
  const shares = Float64Array.from({ length: 128 }, (_, midi) =>
    Room.shareAt(midi, Room.USUAL_ROOM),
  );
  const bare = () => kernel(midis, ticks, shares);
  // Another number of women each time: nothing is known from before.
  let women = 0;
  const fresh = () => pictureOf(score, { ...Room.USUAL_ROOM, women: (women = (women % 99) + 1) });
  const { milliseconds, ratios } = compare([bare, bare, fresh], 201, 2);
  const picture = milliseconds[2] ?? NaN;
  const ms = picture.toFixed(2);
  return Promise.resolve([
    {
      name: 'who is still singing, 12 keys and every note, another room each time / bare loop',
      ratio: ratios[2] ?? NaN,
      limit: null,
      detail: `${ms} ms; A/A ${(ratios[1] ?? NaN).toFixed(2)}`,
    },
    {
      name: 'the same / a frame of the screen, 16.7 ms',
      ratio: picture / FRAME,
      limit: 1,
      detail: `${ms} ms`,
    },
  ]);
}
