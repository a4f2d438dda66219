/** A caution for a screen or a sheet, with where it comes from. */
export interface VoiceCaution {
  readonly id: 'range' | 'find' | 'limit' | 'strain' | 'practice' | 'child' | 'key';
  readonly text: string;
  readonly source: string;
}

const NIDCD =
  'US National Institute on Deafness and Other Communication Disorders (NIDCD), Taking Care of Your Voice, nidcd.nih.gov';

/** Where a range is marked. */
export const RANGE: VoiceCaution = {
  id: 'range',
  text: 'Mark the notes that sit easily today, not the furthest you can push. Nobody’s range is a target.',
  source: `${NIDCD} (singers are a risk group; effort is a warning sign)`,
};

/** Where a range is looked for note by note. */
export const FIND: VoiceCaution = {
  id: 'find',
  text: 'Warm up a little first, and sing softly. The first note that takes effort is where this side ends: it is not sung again. A singing teacher hears more than this page.',
  source: `${NIDCD} (effort is a warning sign); the rest is common practice`,
};

/** Where the furthest notes are marked. */
export const LIMIT: VoiceCaution = {
  id: 'limit',
  text: 'The furthest notes need not be sung to be known: never strain to find them. Hoarseness or pain means stop, and ask someone qualified if it stays.',
  source: 'common practice',
};

/** Where singing goes on, and under every range. */
export const STRAIN: VoiceCaution = {
  id: 'strain',
  text: 'Hoarse, raw, aching or strained, or high notes gone: stop and rest the voice. If it stays, ask a doctor or a voice specialist.',
  source: NIDCD,
};

/** Where a part is practised. */
export const PRACTICE: VoiceCaution = {
  id: 'practice',
  text: 'Comfortable, never strained. Drink water, take breaks, and sing it an octave down or not at all on a bad day.',
  source: `${NIDCD} (drink water, rest the voice); the rest is common practice`,
};

/** Where the singer is a child. */
export const CHILD: VoiceCaution = {
  id: 'child',
  text: 'A child’s voice changes within months: ask again often, keep to what is easy, and keep name and range private.',
  source: 'common practice',
};

/** Where a key is chosen that leaves the comfortable range. */
export const KEY: VoiceCaution = {
  id: 'key',
  text: 'This key asks for notes outside a comfortable range. It is said beside each voice; another key or an octave down may be kinder.',
  source: 'common practice',
};

export const CAUTIONS: readonly VoiceCaution[] = [RANGE, FIND, LIMIT, STRAIN, PRACTICE, CHILD, KEY];
