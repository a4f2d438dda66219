import { ChordSymbol, Pitches, Time, type Note, type Part, type Score, type Ticks } from '#music';

/** What a player's two hands may do. */
export interface HandRules {
  /** Semitones. */
  readonly reach: number;
  readonly lowest: string;
  readonly highest: string;
}

const midi = (pitch: string): number => Pitches.midiOf(pitch);
const voice = (part: Part, id: string): readonly Note[] =>
  part.score.voices.find((each) => each.id === id)?.notes ?? [];

/**
 * Everything that a part for two hands is not allowed, each as a sentence; empty: nothing. Written without the code that
 * makes the parts: bars that are not full, notes over bar lines, shapes wider than the hand, keys outside the register,
 * hands that cross or share a key, thirds or closer below C3 in the left hand (common practice: they blur), chords that do
 * not sound as their symbol says.
 */
export function faultsOf(part: Part, rules: HandRules): string[] {
  const [right, left] = [voice(part, 'right'), voice(part, 'left')];
  return [
    ...bars(part.score, right, 'right'),
    ...bars(part.score, left, 'left'),
    ...[...right, ...left].flatMap((note) => shape(part.score, note, rules)),
    ...left.flatMap((note) => blurred(part.score, note)),
    ...crossings(part.score, right, left),
    ...harmonies(part, [...right, ...left]),
  ];
}

const barOf = (score: Score, at: Ticks): string => `bar ${Time.barAt(score, at).number} (${at})`;

function bars(score: Score, notes: readonly Note[], hand: string): string[] {
  let at = 0;
  for (const note of notes) {
    if (note.at !== at) return [`${hand}: a gap or an overlap in ${barOf(score, note.at)}`];
    const bar = Time.barAt(score, at);
    at += note.length;
    if (note.length <= 0 || at > bar.at + bar.length)
      return [`${hand}: over the line of ${barOf(score, note.at)}`];
  }
  return at === Time.endOf(score) ? [] : [`${hand}: ends early`];
}

function shape(score: Score, { at, pitches, fingers }: Note, rules: HandRules): string[] {
  const keys = pitches.map(midi);
  if (keys.length === 0) return [];
  const where = `${pitches.join(' ')} in ${barOf(score, at)}`;
  const wide = Math.max(...keys) - Math.min(...keys) > rules.reach;
  const outside = keys.some((key) => key < midi(rules.lowest) || key > midi(rules.highest));
  const unordered = keys.some((key, i) => i > 0 && key <= (keys[i - 1] ?? 0));
  const twice = fingers && new Set(fingers).size < fingers.length;
  return [
    ...(wide ? [`wider than ${rules.reach}: ${where}`] : []),
    ...(outside ? [`outside the register: ${where}`] : []),
    ...(unordered ? [`not low to high: ${where}`] : []),
    ...(twice ? [`one finger on two keys: ${where}`] : []),
    ...(fingers && fingers.length !== keys.length ? [`fingers and keys: ${where}`] : []),
  ];
}

function blurred(score: Score, { at, pitches }: Note): string[] {
  const keys = pitches.map(midi);
  const close = keys.some((key, i) => {
    const next = keys[i + 1];
    return next !== undefined && key < midi('C3') && next - key <= 4;
  });
  return close ? [`close below C3: ${pitches.join(' ')} in ${barOf(score, at)}`] : [];
}

function crossings(score: Score, right: readonly Note[], left: readonly Note[]): string[] {
  const faults: string[] = [];
  for (const low of left)
    for (const high of right) {
      const together = low.at < high.at + high.length && high.at < low.at + low.length;
      if (!together || low.pitches.length === 0 || high.pitches.length === 0) continue;
      if (Math.max(...low.pitches.map(midi)) >= Math.min(...high.pitches.map(midi)))
        faults.push(
          `hands meet: ${low.pitches.join(' ')} and ${high.pitches.join(' ')} in ${barOf(score, high.at)}`,
        );
    }
  return faults;
}

/**
 * Triads and sevenths in root position: what begins to sound inside the chord has only its tones, and all of them but the
 * fifth of a seventh chord, which a hand of three notes leaves out; in the last felt beat of a chord of two or more a
 * single note may lead on into the next.
 */
function harmonies({ score }: Part, notes: readonly Note[]): string[] {
  return score.chords.flatMap(({ at, length, chord }) => {
    if (!chord || chord.kind === 'none' || chord.bass !== null || chord.degrees.length > 0)
      return [];
    const tones = ChordSymbol.pitchClassesOf(chord);
    if (tones.length > 4) return [];
    const beat = Time.feltBeat(Time.meterAt(score, at));
    const inside = notes.filter((note) => note.at >= at && note.at < at + length);
    const sounding = new Set(
      inside.flatMap(({ pitches }) => pitches.map((pitch) => midi(pitch) % 12)),
    );
    const name = `${ChordSymbol.write(chord)} in ${barOf(score, at)}`;
    const missing = tones.filter(
      (tone, i) => !sounding.has(tone) && !(tones.length === 4 && i === 2),
    );
    const strange = inside.filter((note) => {
      const leads =
        note.pitches.length === 1 && length >= 2 * beat && note.at >= at + length - beat;
      return !leads && note.pitches.some((pitch) => !tones.includes(midi(pitch) % 12));
    });
    return [
      ...(inside.length > 0 && missing.length > 0 ? [`${name} lacks ${missing.join(' ')}`] : []),
      ...strange.map(({ pitches }) => `${name} has ${pitches.join(' ')}`),
    ];
  });
}
