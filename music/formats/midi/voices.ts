import type { Key } from '../../pitch/key.ts';
import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import type { Problem } from '../../result.ts';
import { QUARTER, type Note, type Syllable, type Ticks, type Voice } from '../../score/score.ts';
import { cutNotes, type Cut } from './cut-notes.ts';
import type { Frame } from './frame.ts';
import type { NamedKey } from './keys.ts';
import { linesOf, type Held } from './lines.ts';
import { hasChords, ticksOf, type MidiPart, type PartNote } from './parts.ts';
import type { Smf } from './smf.ts';
import { spell } from './spelling.ts';
import { onNotes, syllablesOf } from './words.ts';

/** A part with its notes on their written places, from the beginning of the song. */
export interface EvenPart {
  readonly part: MidiPart;
  readonly notes: readonly PartNote[];
}

/** Id of the voice that a part has, or the highest of them. */
export const tuneId = (place: number): string => `T${String(place + 1)}`;

/** The voices of all parts, spelled, with their words. */
export function voicesOf(
  smf: Smf,
  even: readonly EvenPart[],
  frame: Frame,
  keys: readonly NamedKey[],
  tune: number,
  warnings: Problem[],
): Voice[] {
  const voices: Voice[] = [];
  const spare = sparedWords(smf, even, tune);
  let cut = 0;
  even.forEach(({ part, notes }, place) => {
    // What a program wrote as overlapping was meant; a hand holds a note of a tune over by accident.
    const found = linesOf(notes, !part.isEven && !hasChords(part));
    cut += found.cut;
    found.lines.forEach((line, i) => {
      const words = i === 0 ? (spare.get(place) ?? []) : [];
      const id = tuneId(place) + (i === 0 ? '' : String.fromCharCode(97 + i));
      const ticks = ticksOf(smf);
      const sung = words.map(({ at, ...syllable }) => ({ at: ticks(at) - frame.from, syllable }));
      voices.push(voiceOf(id, part.name, line, frame, keys, sung, voices.length + 1, warnings));
    });
  });
  if (cut > 0) {
    const message = `${cut === 1 ? 'A note was' : `${String(cut)} notes were`} held into the next one of the same voice; ${cut === 1 ? 'it ends' : 'they end'} where that begins.`;
    warnings.push({ code: 'info-held-over', message });
  }
  return voices;
}

/** The words of every part: those of its track, where that has no other part; the tune's may stand in a track without notes. */
function sparedWords(smf: Smf, even: readonly EvenPart[], tune: number) {
  const words = new Map<number, ReturnType<typeof syllablesOf>>();
  const owners = new Map<unknown, number>();
  even.forEach(({ part }, place) => {
    if (!owners.has(part.texts) || place === tune) owners.set(part.texts, place);
  });
  for (const [texts, place] of owners) {
    words.set(place, syllablesOf(texts as MidiPart['texts']));
  }
  if ((words.get(tune) ?? []).length === 0) {
    const lone = smf.tracks
      .filter(({ notes }) => notes.length === 0)
      .map(({ texts }) => syllablesOf(texts))
      .sort((a, b) => b.length - a.length)[0];
    if (lone) words.set(tune, lone);
  }
  return words;
}

function voiceOf(
  id: string,
  name: string,
  line: readonly Held[],
  frame: Frame,
  keys: readonly NamedKey[],
  words: readonly { readonly at: Ticks; readonly syllable: Syllable }[],
  staff: number,
  warnings: Problem[],
): Voice {
  const cuts = cutNotes(line, frame.bars);
  const starts = cuts
    .filter(({ pitches, first }) => pitches.length > 0 && first)
    .map(({ at }) => at);
  const { at: sung, lost } = onNotes(words, starts, QUARTER / 2);
  if (lost.length > 0) {
    const shown = lost
      .slice(0, 5)
      .map(({ text }) => text)
      .join(' ');
    const message = `${String(lost.length)} syllables of “${name}” have no note (${shown}) and are left out.`;
    warnings.push({ code: 'words-without-notes', message });
  }
  const mean =
    line.reduce((sum, { pitches }) => sum + (pitches[0] ?? 60), 0) / Math.max(1, line.length);
  const notes: Note[] = [];
  cuts.forEach((cut, i) => {
    const held = notes.at(-1)?.tie ? (notes.at(-1)?.pitches ?? []) : [];
    notes.push(noteOf(cut, keyAt(keys, cut.at), nextPitches(cuts, i), sung, held));
  });
  return { id, name, group: name, staff, clef: mean < 60 ? 'bass' : 'treble', notes };
}

function keyAt(keys: readonly NamedKey[], at: Ticks): Key {
  return (keys.findLast((each) => each.at <= at) ?? keys[0])?.key ?? { tonic: 'C', mode: 'major' };
}

/** The pitches that are sung next, where they are others than these. */
function nextPitches(cuts: readonly Cut[], index: number): readonly number[] {
  const own = cuts[index]?.pitches ?? [];
  for (let i = index + 1; i < Math.min(cuts.length, index + 9); i += 1) {
    const { pitches = [] } = cuts[i] ?? {};
    if (pitches.length > 0 && pitches.join() !== own.join()) return pitches;
  }
  return [];
}

/** `held`: the pitches that are held into this note, which keep their names. */
function noteOf(
  cut: Cut,
  key: Key,
  next: readonly number[],
  sung: ReadonlyMap<Ticks, Syllable>,
  held: readonly PitchName[],
): Note {
  const { at, length, pitches, tie, first, tuplet } = cut;
  const syllable = first && pitches.length > 0 ? sung.get(at) : undefined;
  const names = pitches.map(
    (midi) =>
      held.find((name) => midiOf(name) === midi) ??
      spell(midi, key, next.includes(midi + 1) ? midi + 1 : null),
  );
  return {
    at,
    length,
    pitches: names.sort((a, b) => midiOf(a) - midiOf(b)),
    ...(tie && { tie: true as const }),
    ...(syllable && { syllables: [syllable] }),
    ...(tuplet && { tuplet }),
  };
}
