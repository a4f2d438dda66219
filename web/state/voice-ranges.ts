import { Keys, Pitches, type PitchName } from '#music';
import type { Member, MemberChange, VoiceRange } from '#server/contract/members.ts';

/** A field of `Member` that holds a range. */
export type RangeField = 'comfortable' | 'limit';

/** What is sent, and what the foot of the page says; null: nothing is changed, and the words say why. */
export interface MarkedRange {
  readonly change: Pick<MemberChange, RangeField> | null;
  readonly words: string;
}

const lower = (one: PitchName, other: PitchName) =>
  Pitches.midiOf(one) <= Pitches.midiOf(other) ? one : other;
const higher = (one: PitchName, other: PitchName) =>
  Pitches.midiOf(one) >= Pitches.midiOf(other) ? one : other;

/** The first range, wide enough for the second; the same object where it is already. */
function enclosing(limit: VoiceRange, easy: VoiceRange): VoiceRange {
  const wide = { low: lower(limit.low, easy.low), high: higher(limit.high, easy.high) };
  return wide.low === limit.low && wide.high === limit.high ? limit : wide;
}

const say = ({ low, high }: VoiceRange) => `${Keys.sayNote(low)} to ${Keys.sayNote(high)}`;
const dash = ({ low, high }: VoiceRange) => `${Keys.sayNote(low)}–${Keys.sayNote(high)}`;

/**
 * One of someone's two ranges marked anew. The furthest notes enclose the easy ones: an easy range that goes beyond
 * them widens them (a note that sits easily is one they have), furthest notes that leave out easy ones are refused.
 */
export function markRange(
  { name, comfortable, limit }: Pick<Member, 'name' | RangeField>,
  field: RangeField,
  range: VoiceRange,
): MarkedRange {
  if (field === 'comfortable') {
    const wide = limit && enclosing(limit, range);
    if (!wide || wide === limit) {
      return { change: { comfortable: range }, words: `The range of ${name} is marked.` };
    }
    return {
      change: { comfortable: range, limit: wide },
      words: `The range of ${name} is marked, ${say(range)}; the furthest notes went from ${dash(limit)} to ${dash(wide)}, since they enclose it.`,
    };
  }
  if (comfortable && enclosing(range, comfortable) !== range) {
    return {
      change: null,
      words: `The furthest notes, ${say(range)}, do not enclose what sits easily for ${name}, ${say(comfortable)}. Nothing was changed.`,
    };
  }
  return {
    change: { limit: range },
    words: `The furthest notes of ${name} are marked, ${say(range)}.`,
  };
}
