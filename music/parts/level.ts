export type Level = 'beginner' | 'intermediate' | 'advanced';

/** Where a hand or a role has another level than the usual one. */
export type Levels = Readonly<
  Partial<
    Record<'right hand' | 'left hand' | 'pedal' | 'bass' | 'guitar' | 'drums' | 'voice', Level>
  >
>;
