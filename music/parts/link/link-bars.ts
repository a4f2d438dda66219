import { sameKey, signatureOf, type Key } from '../../pitch/key.ts';
import { ENGLISH, type Says } from '../../pitch/says.ts';
import { passesOf, unfold } from '../../score/form.ts';
import { changingKeys, changingMeters } from '../../score/cuts.ts';
import type { Bar, ChordAt, KeyAt, Note, Pass, Score, Section, Ticks } from '../../score/score.ts';
import { temposOf, withTempos } from '../../score/tempos.ts';
import { barLength, endOf, inForce, meterAt, tempoAt, unitTicks } from '../../score/time.ts';
import type { ArrangedPass } from '../arrangement.ts';
import { LINK, type Link } from './link.ts';
import { linkName, loopCue } from './link-words.ts';

/** Beats without a meter that a bar between takes (ours). */
const FREE_BEATS = 4;

/**
 * The song with the chords of a way on written out after its last bar, a bar each, in the meter and tempo that it ends in:
 * a section of their own, before it one with repeat signs for what is played over and over. Everybody rests there whose
 * notes do not come from the chords. Where the last bar is short, as a song with a pickup has it, a rest fills it first.
 * @param song arranged, without its introduction
 * @param says how its name says the key that it leads to
 */
export function withLink(song: Score, link: Link | null, says: Says = ENGLISH): Score {
  const chords = link?.way.chords ?? [];
  const played = unfold(song).at(-1);
  const last = song.bars.at(-1);
  if (!link || chords.length === 0 || !played || !last) return song;
  const end = endOf(song);
  const meter = meterAt(song, played.to - 1);
  const full = barLength(meter) ?? FREE_BEATS * unitTicks(meter.unit);
  const fill = played.to === end && !hasEnding(played.pass) ? missingIn(song, full) : 0;
  const looped = link.way.looped;
  const lead = fill > 0 ? [plainBar(last.number, end, fill)] : [];
  const bars = chords.map((_, i): Bar => ({
    ...plainBar(last.number + 1 + i, end + fill + i * full, full),
    line: i === chords.length - 1 || i === looped - 1 ? 'double' : 'single',
    repeatStart: looped > 0 && i === 0,
    repeatEnd: i === looped - 1,
  }));
  const all = [...lead, ...bars];
  const rests = all.map(({ at, length }): Note => ({ at, length, pitches: [] }));
  const sections = sectionsOf(link, end, bars, says);
  const form = sections.map(({ id }): Pass => ({ section: id, verse: null, ...textureAfter(played.pass, link) })); // prettier-ignore
  const tempo = tempoAt(song, played.to - 1);
  return {
    ...(tempo ? withTempos(song, [...temposOf(song), { at: end, tempo }]) : song),
    keys: changingKeys([...song.keys, keyFor(song, link.from, end)]),
    meters: changingMeters([...song.meters, { at: end, meter }]),
    bars: [...song.bars.slice(0, -1), { ...last, line: 'double' }, ...all],
    voices: song.voices.map((voice) => ({ ...voice, notes: [...voice.notes, ...rests] })),
    chords: [
      ...song.chords,
      ...bars.map(({ at, length }, i): ChordAt => ({ at, length, chord: chords[i] ?? null })),
    ],
    sections: [...song.sections, ...sections],
    form: [...passesOf(song).map(({ pass }) => pass), ...form],
  };
}

const hasEnding = (pass: ArrangedPass): boolean => pass.ending !== undefined;

/** How much is missing at the end of the song to a full bar; a bar that is cut in two counts whole. */
function missingIn({ bars }: Score, full: Ticks): Ticks {
  const number = bars.at(-1)?.number;
  const before = bars.findLastIndex((bar) => bar.number !== number);
  const length = bars.slice(before + 1).reduce((sum, bar) => sum + bar.length, 0);
  return Math.max(0, full - length);
}

function plainBar(number: number, at: Ticks, length: Ticks): Bar {
  return { number, at, length, line: 'single', repeatStart: false, repeatEnd: false, endings: [] };
}

function sectionsOf(link: Link, from: Ticks, bars: readonly Bar[], says: Says): Section[] {
  const { looped } = link.way;
  const to = (bars.at(-1)?.at ?? from) + (bars.at(-1)?.length ?? 0);
  const name = linkName(link, says);
  if (looped === 0) return [{ id: LINK.on, kind: 'other', name, from, to }];
  const cut = bars[looped]?.at ?? to;
  const loop = { cue: loopCue(link.onward), amen: false };
  return [
    { id: LINK.loop, kind: 'vamp', name, from, to: cut, loop },
    ...(cut < to ? [{ id: LINK.on, kind: 'other' as const, name: 'Then', from: cut, to }] : []),
  ];
}

/** The bars go on as the last pass was played; after a quiet ending, and in a soft loop, they are held. */
function textureAfter(pass: ArrangedPass, { way }: Link): Pick<ArrangedPass, 'texture'> {
  const { texture, ending } = pass;
  return texture && ending !== 'quiet' && way.looped === 0 ? { texture } : {};
}

/** The key that the song ends in, as it is printed there. */
function keyFor(song: Score, key: Key, at: Ticks): KeyAt {
  const before = inForce(song.keys, at);
  if (sameKey(before.key, key)) return { ...before, at };
  const printed = song.keys.find((each) => sameKey(each.key, key));
  return printed
    ? { ...printed, at }
    : { at, key, signature: signatureOf(key), sure: true, reason: '', others: [] };
}
