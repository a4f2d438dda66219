import type { Chord } from '../pitch/chord.ts';
import type { Key } from '../pitch/key.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type { Sentence } from './sentence.ts';

/**
 * Exact musical time, an integer: 20160 = 2^6·3^2·5·7 ticks to the quarter note hold 256th notes' worth of
 * division (2^6), tuplets of three, five, six, seven and nine, and the usual resolutions of MIDI files (480, 960).
 */
export type Ticks = number;
export const QUARTER: Ticks = 20160;

/**
 * A song as music. Everything lies on one exact time line that starts at 0 with the first note of the first bar
 * (the pickup, where there is one). Readonly throughout and plain JSON.
 */
export interface Score {
  readonly facts: SongFacts;
  /** At the start; null: not said. */
  readonly tempo: Tempo | null;
  /** Where it changes later, in order, each after 0. Missing: nowhere. */
  readonly tempoChanges?: readonly TempoAt[];
  /** In order; the first at 0. */
  readonly keys: readonly KeyAt[];
  /** In order; the first at 0. */
  readonly meters: readonly MeterAt[];
  /** They cover the time line without a gap; the first may be a pickup. */
  readonly bars: readonly Bar[];
  readonly voices: readonly Voice[];
  /** Id of the voice that carries the tune. */
  readonly melody: string;
  /** In order, not overlapping. Empty where the source has none. */
  readonly chords: readonly ChordAt[];
  /** In order, covering the time line. At least one. */
  readonly sections: readonly Section[];
  /** The verses of the words; `Note.syllables` is indexed like this list. */
  readonly verses: readonly Verse[];
  /** The passes in the order they are sung. */
  readonly form: readonly Pass[];
  /** What the source marks to be played before the singing, in order; empty where it marks nothing. */
  readonly introduction: readonly Span[];
  /** The source gives words and chords but no time: places are an order, not a length. */
  readonly untimed?: true;
  /** How high the tune lies, as a person gave it; for songs whose melody is not written. */
  readonly compass?: Compass;
}

/** What a person knows of a tune that is not written down: sounding pitches, in the key at the start of the score. */
export interface Compass {
  readonly low: PitchName;
  readonly high: PitchName;
  /** Where it lies most of the time; null: not said. */
  readonly mostly: { readonly low: PitchName; readonly high: PitchName } | null;
}

export interface SongFacts {
  readonly title: string;
  readonly subtitles: readonly string[];
  readonly tune: string | null;
  /** `8.6.8.6`, as the source gives it. */
  readonly hymnMeter: string | null;
  /** The credit lines of the source, whole: `Words: John Newton, 1779.` */
  readonly credits: readonly string[];
  readonly rights: string | null;
  readonly source: string | null;
  /** Everything else the source says in words and no field above holds: [its name there, its text]. */
  readonly other: readonly (readonly [name: string, text: string])[];
}

export interface Tempo {
  /** Length of the counted note: a quarter, a dotted quarter … */
  readonly beat: Ticks;
  readonly perMinute: number;
}

export interface TempoAt {
  readonly at: Ticks;
  readonly tempo: Tempo;
}

export interface KeyAt {
  readonly at: Ticks;
  readonly key: Key;
  /** What is printed: sharps positive, flats negative, −7…7. Need not be the key's own (a Dorian signature). */
  readonly signature: number;
  /** Whether the key is certain; where not, `reason` says why and `others` what else it may be. */
  readonly sure: boolean;
  readonly reason: string;
  /** The reason with its pitches still pitches: `reason` is how it is said, and changes key with the song. */
  readonly sentence?: Sentence;
  readonly others: readonly Key[];
}

/** `beats` null: no meter (free). 6/8 is `{ beats: 6, unit: 8 }`. */
export interface Meter {
  readonly beats: number | null;
  /** 1, 2, 4, 8, 16 …: the note that the lower figure names; where free, the note to count in. */
  readonly unit: number;
}

export interface MeterAt {
  readonly at: Ticks;
  readonly meter: Meter;
}

export interface Span {
  readonly from: Ticks;
  readonly to: Ticks;
}

export interface Bar {
  /** As printed and spoken: the pickup is 0, the first full bar 1. */
  readonly number: number;
  readonly at: Ticks;
  readonly length: Ticks;
  /** The line at its end. */
  readonly line: 'single' | 'double' | 'final' | 'none' | 'dashed';
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  /** The endings this bar belongs to: [1], [2], [1, 2]; empty: none. */
  readonly endings: readonly number[];
  /** Number of the bar that it repeats, where it is written out before bar 1: a bar of an introduction. */
  readonly copyOf?: number;
}

export interface Voice {
  /** As the source names it: `S1V1`. */
  readonly id: string;
  readonly name: string;
  /** Voices of one instrument stand together, as staves of one part: `Hymn`, `Singer`, `Keyboard`. */
  readonly group: string;
  /** 1-based, from the top of the whole score; two voices can share a staff. */
  readonly staff: number;
  /** Pitches are what sounds: `-8` is a clef with an 8 below, whose notes stand an octave above their sound. */
  readonly clef: 'treble' | 'bass' | 'treble-8' | 'bass-8';
  /** In order, without gaps or overlaps, from 0 to the end of the last bar (rests are notes without pitches). */
  readonly notes: readonly Note[];
}

export interface Note {
  readonly at: Ticks;
  readonly length: Ticks;
  /** Low to high; empty: a rest. */
  readonly pitches: readonly PitchName[];
  /** Held on into the next note of this voice. */
  readonly tie?: true;
  /** Per verse of the score; null or missing: no syllable starts here. */
  readonly syllables?: readonly (Syllable | null)[];
  readonly slurStarts?: number;
  readonly slurEnds?: number;
  readonly fermata?: true;
  /** A tuplet member: `{ actual: 3, normal: 2 }` for a triplet. */
  readonly tuplet?: { readonly actual: number; readonly normal: number };
  /** Played before the note, outside the count. */
  readonly grace?: readonly PitchName[];
  /** A rest that is not printed. */
  readonly hidden?: true;
  /** Beamed with the next note in the source. */
  readonly beam?: true;
  /** Fingers of `pitches`, same order, 1–5. */
  readonly fingers?: readonly number[];
  /** Struck softer than what was struck before it. */
  readonly soft?: true;
  /** The sustaining pedal, where the note begins. What is down at the end of its voice is released there. */
  readonly pedal?: 'down' | 'up' | 'change';
  /** What stands above it, in rubric: `high`. */
  readonly above?: string;
  /** Other signs of the source by their name there: `trill`, `breath`. */
  readonly signs?: readonly string[];
}

export interface Syllable {
  readonly text: string;
  /** The word goes on in the next syllable. */
  readonly hyphen?: true;
  /** Notes after it that it is held over, where no further syllable of its section says so. */
  readonly held?: number;
}

export interface Verse {
  /** 1-based, as sung. */
  readonly number: number;
  /** As printed before the first syllable: `1.` */
  readonly label: string;
  /** Lines of words printed below the music, where they are not under the notes. */
  readonly lines?: readonly string[];
}

export type SectionKind =
  'verse' | 'refrain' | 'chorus' | 'bridge' | 'tag' | 'intro' | 'ending' | 'vamp' | 'other';

export interface Section extends Span {
  readonly id: string;
  readonly kind: SectionKind;
  /** `Verse`, `Refrain`, or as the source has it. */
  readonly name: string;
  /** Where a sheet writes a section out more than once: its id in the song; the name says for which passes. */
  readonly copyOf?: string;
  /** Of a copy whose name says for which passes it is (`Verses 1 and 3`): what its section is called. */
  readonly ownName?: string;
  /**
   * Of a copy in the key that some passes are sung in: how many half steps it stands above its section, below zero: under
   * it. `name` is that of the section. Missing in songs.
   */
  readonly up?: number;
  /** Of a vamp, an open-ended loop under prayer or speech: how it is left. */
  readonly loop?: Loop;
}

export interface Loop {
  /** What to listen for, to go on after it: `after the prayer, at “through Jesus Christ”`. */
  readonly cue: string;
  /** Whether it closes with an Amen, IV–I in the key there, once the cue has come. */
  readonly amen: boolean;
}

export interface Pass {
  readonly section: string;
  /** Number of the verse that is sung; null where the words are always the same or there are none. */
  readonly verse: number | null;
}

export interface ChordAt {
  readonly at: Ticks;
  readonly length: Ticks;
  /** null: no chord (N.C.). */
  readonly chord: Chord | null;
  /** Where it was found in the voices and not written by a person. */
  readonly guess?: ChordGuess;
}

export interface ChordGuess {
  /** One sentence with bar, beat and pitches. */
  readonly reason: string;
  /** The reason with its pitches still pitches: `reason` is how it is said, and changes key with the song. */
  readonly sentence?: Sentence;
  /** What else it may be, best first. */
  readonly others: readonly Chord[];
}
