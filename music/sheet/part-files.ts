import type { PlayedKey } from '../hand/played-key.ts';
import { write as writeMidi, type MidiWriteOptions } from '../formats/midi.ts';
import { compress, write as writeMusicXml } from '../formats/musicxml.ts';
import { says, type Says } from '../pitch/says.ts';
import type { Part } from '../parts/part.ts';
import { printedName } from '../score/copy-names.ts';
import type { Note, Score, SongFacts, Voice } from '../score/score.ts';
import { headingOf } from './sheet.ts';
import { wordsUnderVoice } from './words-under.ts';

/** Whose part it is, and where it is read in another key than it sounds in. */
export interface PartOwner {
  readonly name: string;
  readonly played?: PlayedKey | null;
}

/**
 * Sounds of General MIDI 1 by group of voices, counted from 0: its sound set has 1 Acoustic Grand Piano, 33 Acoustic Bass
 * and 53 Choir Aahs (MIDI Association, RP-003, counted from 1).
 */
const PROGRAMS = { Keyboard: 0, Bass: 32, Singer: 52 } as const;

/** `keys, first rung, for Ines`: as the sheet is headed. */
export function rubricOf(part: Part, { name, played = null }: PartOwner): string {
  return headingOf(part, { name }, played).rubric;
}

/** What the sheet says and no note can, by name. */
function sayings(part: Part, owner: PartOwner): SongFacts['other'] {
  const said: readonly (readonly [string, string])[] = [
    ['part', rubricOf(part, owner)],
    ['played key', owner.played?.words ?? ''],
    ['count-in', part.countIn],
    ['order', part.order],
    ['beginning', part.introduction],
  ];
  return said.filter(([, words]) => words !== '');
}

/** The voice of the player, who reads the rubric: at the keys the right hand. */
const READS: readonly string[] = ['right', 'bass', 'melody'];

/** The directions of each section above its first note. */
function withDirections(part: Part, voice: Voice): Voice {
  const above = new Map<number, string>();
  for (const { section: id, words } of part.directions) {
    const section = part.score.sections.find((each) => each.id === id);
    const first = section && voice.notes.findIndex(({ at }) => at >= section.from);
    if (first !== undefined && first >= 0 && words.length > 0) above.set(first, words.join('; '));
  }
  const notes = voice.notes.map((note, i): Note => {
    const words = [above.get(i), note.above].filter((each) => each !== undefined).join('; ');
    return words === '' ? note : { ...note, above: words };
  });
  return { ...voice, notes };
}

/**
 * The score that a file of a part holds: the voices that its sheet prints, with all their verses, and its rubric as words.
 * The key is that of the page.
 */
export function scoreOf(part: Part, owner: PartOwner): Score {
  const [first] = part.printed ?? [];
  const worded = first === undefined ? part.score : wordsUnderVoice(part.score, first);
  const printed = worded.voices.filter(({ id }) => part.printed?.includes(id) ?? true);
  const reader = READS.find((id) => printed.some((voice) => voice.id === id));
  const voices = printed.map((voice) =>
    voice.id === reader ? withDirections(part, voice) : voice,
  );
  const { facts } = worded;
  return {
    ...worded,
    facts: { ...facts, other: [...facts.other, ...sayings(part, owner)] },
    melody: first ?? worded.melody,
    sections: asPrinted(worded, says(part.names)),
    voices,
  };
}

const asPrinted = (score: Score, said: Says): Score['sections'] =>
  score.sections.map((section) => {
    const { up: _, ...rest } = section;
    return { ...rest, name: printedName(score, section, said) };
  });

/**
 * A part as MusicXML 4.0, as its sheet prints it: the keyboard as one part of two staves, the bass in a bass clef with an
 * 8 (it sounds as its pitches say, an octave below where it is read), with fingers, chord symbols, pedal and rubric.
 */
export function musicXml(part: Part, owner: PartOwner): string {
  return writeMusicXml(scoreOf(part, owner), { rubric: rubricOf(part, owner) });
}

/** The same as a compressed `.mxl` file. */
export function mxl(part: Part, owner: PartOwner): Uint8Array {
  return compress(musicXml(part, owner));
}

/**
 * A part as a Standard MIDI File to practise with: a track for each hand, or the bass, and one for the singers (beside a
 * second voice the tune has one too), in sounds of General MIDI 1. It sounds as it is played, where the keyboard is not transposed.
 */
export function midi(
  part: Part,
  options: Pick<MidiWriteOptions, 'passes' | 'countIn' | 'click'> = {},
): Uint8Array {
  const sung = part.score.voices.filter(({ group }) => group === 'Singer');
  const voices = part.score.voices.map((voice) =>
    voice.group === 'Singer' && sung.length === 1 ? { ...voice, name: 'Singer' } : voice,
  );
  return writeMidi({ ...part.score, voices }, { ...options, programs: PROGRAMS });
}
