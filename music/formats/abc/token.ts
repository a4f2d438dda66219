/** A written length as a fraction of the unit note. */
export interface Length {
  readonly over: number;
  readonly under: number;
}

/** One head: a letter with its accidental and octave. `octave` is the scientific one: `C` is C4, `c` C5. */
export interface Head {
  readonly letter: string;
  readonly octave: number;
  /** Semitones where an accidental is written. */
  readonly accidental: number | null;
}

export interface BarSign {
  readonly line: 'single' | 'double' | 'final' | 'none' | 'dashed';
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
}

export type Token = { readonly column: number } & (
  | { readonly kind: 'note'; readonly head: Head; readonly length: Length }
  | { readonly kind: 'rest'; readonly letter: string; readonly length: Length }
  | {
      readonly kind: 'chord';
      readonly heads: readonly (Head & {
        readonly length: Length;
        readonly tied: boolean;
        readonly finger: number | null;
      })[];
      readonly length: Length;
    }
  | { readonly kind: 'grace'; readonly heads: readonly Head[] }
  | ({ readonly kind: 'bar' } & BarSign)
  | { readonly kind: 'ending'; readonly numbers: readonly number[] }
  | {
      readonly kind: 'tuplet';
      readonly p: number;
      readonly q: number | null;
      readonly r: number | null;
    }
  | { readonly kind: 'slur'; readonly opens: boolean; readonly dotted: boolean }
  | { readonly kind: 'tie'; readonly dotted: boolean }
  | { readonly kind: 'broken'; readonly sign: '>' | '<'; readonly count: number }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'decoration'; readonly name: string }
  | { readonly kind: 'inline'; readonly letter: string; readonly value: string }
  | { readonly kind: 'overlay' }
  | { readonly kind: 'space' }
);
