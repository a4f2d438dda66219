/** One line of the leader's order of service. */
export interface OrderLine {
  readonly item: string;
  readonly kind: 'song' | 'reading' | 'prayer' | 'talk' | 'other';
  /** When it begins on the clocks there: `10:34`; null where a length before it is not known. */
  readonly begins: string | null;
  /** Whole minutes, rounded up; null: not known. */
  readonly minutes: number | null;
  readonly title: string;
  /** `F major`; null: not a song. */
  readonly key: string | null;
  /** Who leads the singing. */
  readonly lead: string | null;
  /** `verses 1 to 3, refrain after each`; empty: not a song. */
  readonly form: string;
  /** `♩ = 76` in words: `quarter = 76`; empty where none is known. */
  readonly tempo: string;
  readonly note: string;
  /** Rubric: who reads it in another key, what is missing, how it builds. */
  readonly directions: readonly string[];
}

/** The whole service on one page, for whoever leads it. */
export interface OrderSheet {
  readonly title: string;
  /** `Sunday, 29 November 2026, 10:30`. */
  readonly when: string;
  readonly place: string;
  readonly lines: readonly OrderLine[];
  readonly people: readonly { readonly name: string; readonly roles: readonly string[] }[];
  /** What a missing role means for the others: `No bass this week: the keyboard's left hand carries the roots.` */
  readonly missing: readonly string[];
  /** `about 48 minutes; the length of the talk is not known`. */
  readonly length: string;
}
