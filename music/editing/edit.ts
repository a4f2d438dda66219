import type { Key } from '../pitch/key.ts';
import type { PitchName } from '../pitch/pitch.ts';
import type {
  Compass,
  Loop,
  Meter,
  Pass,
  SectionKind,
  SongFacts,
  Syllable,
  Tempo,
  Ticks,
} from '../score/score.ts';

/**
 * One thing that a person does to a song. Places are ticks from the start of the score, bars are counted by index from
 * 0 (the pickup, where there is one). Plain JSON, so that a draft can keep what was done.
 */
export type Edit =
  | OneEdit
  /** Several in order, as one step that is undone at once; where one is refused none is done. */
  | { readonly do: 'together'; readonly edits: readonly OneEdit[] };

export type OneEdit =
  | NoteEdit
  | WordsEdit
  | ChordEdit
  | BarEdit
  | SectionEdit
  | { readonly do: 'facts'; readonly facts: Partial<SongFacts> }
  /** null: takes it back. */
  | { readonly do: 'compass'; readonly compass: Compass | null }
  /** From that bar on until the next change; missing: at the start of the song. null: takes what is said there back. */
  | { readonly do: 'tempo'; readonly tempo: Tempo | null; readonly bar?: number };

export type NoteEdit =
  /**
   * A note or chord (no pitches: a rest) from a place on. What lies under it gives way: a note that began before is
   * cut short, one that begins inside it goes, one that lasts beyond it leaves a rest. Over a bar line it is tied. The
   * words of a note that began at the same place stay.
   */
  | {
      readonly do: 'note';
      readonly voice: string;
      readonly at: Ticks;
      readonly length: Ticks;
      /** Low to high. */
      readonly pitches: readonly PitchName[];
      readonly tuplet?: { readonly actual: number; readonly normal: number };
    }
  /** The note that sounds there becomes a rest; its syllables go with it. */
  | { readonly do: 'erase'; readonly voice: string; readonly at: Ticks }
  /** Other pitches, the same length and syllables. */
  | {
      readonly do: 'pitch';
      readonly voice: string;
      readonly at: Ticks;
      readonly pitches: readonly PitchName[];
    }
  | {
      readonly do: 'tie' | 'fermata' | 'slur';
      readonly voice: string;
      readonly at: Ticks;
      readonly on: boolean;
    }
  | {
      readonly do: 'add voice';
      readonly id: string;
      readonly name: string;
      readonly clef: 'treble' | 'bass' | 'treble-8' | 'bass-8';
    }
  | { readonly do: 'remove voice'; readonly voice: string };

export type WordsEdit =
  /** null: no syllable begins there. */
  | {
      readonly do: 'syllable';
      readonly at: Ticks;
      /** Number of the verse; one that is not there yet is begun. */
      readonly verse: number;
      readonly syllable: Syllable | null;
    }
  /**
   * The words of one verse of one section, laid under the notes of the tune in order: hyphens part syllables, `_` holds
   * one over a further note, line ends are only spaces. Words that find no note are a problem, notes that are left
   * over keep none.
   */
  | {
      readonly do: 'words';
      readonly section: string;
      readonly verse: number;
      readonly text: string;
      /** The note they begin with, those before it are sung to nothing; missing: the first of the section. */
      readonly from?: Ticks;
    }
  | { readonly do: 'remove verse'; readonly verse: number };

export type ChordEdit =
  /**
   * `symbol` null: no chord (N.C.). It may begin anywhere, also under a note that is held, and lasts until the next one
   * or, where that is sooner, `until`: where a chord begins that was found and not written.
   */
  | {
      readonly do: 'chord';
      readonly at: Ticks;
      readonly symbol: string | null;
      readonly until?: Ticks;
    }
  /** What stands there goes; the chord before it lasts on. */
  | { readonly do: 'remove chord'; readonly at: Ticks }
  /**
   * Chords as in another section, from its start, as far as both reach; in a song without time line by line, each over
   * the word of the same place.
   */
  | { readonly do: 'chords as in'; readonly from: string; readonly to: string };

export type BarEdit =
  /**
   * Empty bars before that one; at the number of bars: at the end. They belong to the section that ends there; a note
   * that is held over the bar line is held through them.
   */
  | { readonly do: 'insert bars'; readonly bar: number; readonly count: number }
  /** `to` is the first that stays. */
  | { readonly do: 'remove bars'; readonly from: number; readonly to: number }
  /** Length of the pickup; 0: none. */
  | { readonly do: 'pickup'; readonly length: Ticks }
  /** From that bar on until the next change; notes are laid into the new bars, the last is filled with rests. */
  | { readonly do: 'meter'; readonly bar: number; readonly meter: Meter }
  /** From that bar on; the pitches stay as they are. null: takes a change there back. */
  | { readonly do: 'key'; readonly bar: number; readonly key: Key | null }
  /** From that bar to the end of its key, moved so that it stands in another key. */
  | { readonly do: 'move to key'; readonly bar: number; readonly key: Key }
  | {
      readonly do: 'repeat';
      readonly bar: number;
      readonly start?: boolean;
      readonly end?: boolean;
      readonly endings?: readonly number[];
    }
  /**
   * A song of words and chords gets bars: each chord lasts as many as is said (half a bar: 0.5), each line of words
   * begins with a bar. What was only an order becomes a length, and a melody can be written. The words stand below the
   * music until they are laid under its notes; verses of the same chords, or of none, become one section.
   */
  | { readonly do: 'give time'; readonly meter: Meter; readonly barsPerChord: number };

export type SectionEdit =
  /** A section begins with that bar; it takes what the one there had from here on. */
  | {
      readonly do: 'begin section';
      readonly bar: number;
      /** A moment of the bar in which a note or rest of the tune begins, as with the pickup of a refrain; missing: its start. */
      readonly at?: Ticks;
      readonly kind: SectionKind;
      readonly name: string;
      readonly loop?: Loop;
    }
  | {
      readonly do: 'section';
      readonly id: string;
      readonly kind: SectionKind;
      readonly name: string;
      /** null: none. */
      readonly loop: Loop | null;
    }
  /** Joins it to the one before. */
  | { readonly do: 'join section'; readonly id: string }
  | { readonly do: 'form'; readonly form: readonly Pass[] };
