/**
 * How hard a soft note is struck (`Note.soft`): 60 percent of forte. MusicXML 4.0 counts `dynamics` on a note in percent of
 * forte, which is MIDI's 90, and 60 percent of that is 54. The number is ours; that a soft note is softer than its
 * neighbours is common practice.
 */
export const SOFT = { percent: 60, velocity: 54 } as const;
