import type { Bar, Demands, KeyChange, Octave, OctaveChoice, Singer } from '#music';

/** What a tune asks of the voices in the key on the screen, and the octaves that are tried with them. */
export interface SungByVoices {
  /** Of the song as it is written. */
  readonly bars: readonly Bar[];
  /** Where the arrangement changes its key, and what that does to the voices. */
  readonly changes: readonly KeyChange[];
  singer(voice: string): Singer | undefined;
  /** null: no tune is written. */
  demandsOf(voice: string): Demands | null;
  /** null: whichever lies better for the whole song; `own`: section by section. */
  octaveOf(voice: string): OctaveChoice | 'own' | null;
  choose(voice: string, choice: OctaveChoice | null): void;
  chooseIn(voice: string, section: string, octave: Octave): void;
}
