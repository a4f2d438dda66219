import { Keys, Pitches, type Compass, type PitchName } from '#music';

/** What is typed of how high a song lies; empty: not said. */
export interface TypedCompass {
  readonly low: string;
  readonly high: string;
  readonly mostlyLow: string;
  readonly mostlyHigh: string;
}

export const typedCompass = (compass: Compass | undefined): TypedCompass => ({
  low: compass ? Keys.sayNote(compass.low) : '',
  high: compass ? Keys.sayNote(compass.high) : '',
  mostlyLow: compass?.mostly ? Keys.sayNote(compass.mostly.low) : '',
  mostlyHigh: compass?.mostly ? Keys.sayNote(compass.mostly.high) : '',
});

/** A pitch as people type it: `a3`, `Bb4`, `F♯4`; null: it is none. */
export function pitchTyped(text: string): PitchName | null {
  const match = /^\s*([A-Ga-g])\s*([#♯b♭]?)\s*(\d)\s*$/.exec(text);
  if (!match) return null;
  const [, letter = '', sign = '', octave = ''] = match;
  return `${letter.toUpperCase()}${sign === '♯' ? '#' : sign === '♭' ? 'b' : sign}${octave}`;
}

type Read = { readonly compass: Compass | null } | { readonly wrong: string };

function pair(
  low: string,
  high: string,
  what: string,
): { low: PitchName; high: PitchName } | string {
  const [one, other] = [pitchTyped(low), pitchTyped(high)];
  if (!one) return `“${low}” is not a note with its octave, such as A3 or B♭4.`;
  if (!other) return `“${high}” is not a note with its octave, such as A3 or B♭4.`;
  if (Pitches.midiOf(one) > Pitches.midiOf(other))
    return `${what}: ${Keys.sayNote(one)} lies above ${Keys.sayNote(other)}.`;
  return { low: one, high: other };
}

/** The compass that is typed; null: none is, so that one that was given goes. */
export function compassOf({ low, high, mostlyLow, mostlyHigh }: TypedCompass): Read {
  if (![low, high, mostlyLow, mostlyHigh].some((text) => text.trim() !== ''))
    return { compass: null };
  const whole = pair(low, high, 'Lowest and highest');
  if (typeof whole === 'string') return { wrong: whole };
  if (mostlyLow.trim() === '' && mostlyHigh.trim() === '')
    return { compass: { ...whole, mostly: null } };
  const mostly = pair(mostlyLow, mostlyHigh, 'Where it mostly lies');
  if (typeof mostly === 'string') return { wrong: mostly };
  const isInside =
    Pitches.midiOf(mostly.low) >= Pitches.midiOf(whole.low) &&
    Pitches.midiOf(mostly.high) <= Pitches.midiOf(whole.high);
  if (!isInside) return { wrong: 'Where it mostly lies must be between its lowest and its highest note.' }; // prettier-ignore
  return { compass: { ...whole, mostly } };
}
