import {
  KeyFit,
  type ArrangedPass,
  type Demands,
  type DemandsOf,
  type Key,
  type KeyChange,
  type Octave,
  type OctaveChoice,
  type Score,
  type Singer,
  type Tempo,
} from '#music';

/** Octaves that were asked for, by singer: one for the song, or by section. */
export type AskedOctaves = Readonly<
  Record<string, OctaveChoice | Readonly<Record<string, OctaveChoice>>>
>;

/** A song as it is sung here. */
export interface SungHere {
  readonly score: Score | null;
  readonly key: Key | null;
  readonly arrangement: {
    readonly tempo: Tempo | null;
    readonly form: readonly ArrangedPass[] | null;
  } | null;
  /** Its own tempo is that of a file, which nobody confirmed. Missing: it is not. */
  readonly isFromFile?: boolean;
}

/** Whose voices they are, and the octaves that are tried with them. */
export interface Voices {
  readonly singers: readonly Singer[];
  octaves: AskedOctaves;
}

/** What the tune asks of each voice in the key on the screen, and what a change of key in it does. */
export class SingersFit {
  readonly #song: SungHere;
  readonly #voices: Voices;

  constructor(song: SungHere, voices: Voices) {
    this.#song = song;
    this.#voices = voices;
  }

  /** By themselves, so that another key does not look for the breaths anew. */
  readonly #tempo = $derived.by(() => this.#song.arrangement?.tempo ?? null);
  readonly #isFile = $derived.by(() => this.#song.isFromFile ?? false);
  readonly #of: DemandsOf | null = $derived.by(() => {
    const { score } = this.#song;
    if (!score || score.untimed) return null;
    return KeyFit.demands(score, {
      tempo: this.#tempo,
      ...(this.#isFile ? { tempoFrom: 'file' } : {}),
    });
  });

  readonly bars = $derived.by(() => this.#song.score?.bars ?? []);

  readonly changes: readonly KeyChange[] = $derived.by(() => {
    const { score, key, arrangement } = this.#song;
    const { singers, octaves } = this.#voices;
    if (!score || !key || score.untimed || singers.length === 0) return [];
    return KeyFit.passes(score, singers, key, { form: arrangement?.form ?? null, octaves }).changes;
  });

  /** null: no tune is written, or nobody of this id sings. Worked out when it is asked for. */
  demandsOf(voice: string): Demands | null {
    const singer = this.singer(voice);
    const { key } = this.#song;
    return (singer && key && this.#of?.(singer, key, this.#voices.octaves)) ?? null;
  }

  singer(voice: string): Singer | undefined {
    return this.#voices.singers.find(({ id }) => id === voice);
  }

  /** null: whichever lies better for the whole song; `own`: section by section. */
  octaveOf(voice: string): OctaveChoice | 'own' | null {
    const asked = this.#voices.octaves[voice];
    if (asked === undefined) return null;
    return typeof asked === 'string' ? asked : 'own';
  }

  /** @param choice null: whichever lies better for the whole song */
  choose(voice: string, choice: OctaveChoice | null): void {
    const { [voice]: _before, ...others } = this.#voices.octaves;
    this.#voices.octaves = choice === null ? others : { ...others, [voice]: choice };
  }

  /** One section in an octave; the others stay in theirs. */
  chooseIn(voice: string, section: string, octave: Octave): void {
    const row = this.demandsOf(voice)?.row;
    if (!row) return;
    const own = Object.fromEntries(row.perSection.map((each) => [each.section, each.octave]));
    this.#voices.octaves = { ...this.#voices.octaves, [voice]: { ...own, [section]: octave } };
  }
}
