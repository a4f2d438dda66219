import { find, named } from '../../score/key-finding.ts';
import type { Score, Verse } from '../../score/score.ts';
import { foundSections, usualForm } from '../../score/sections.ts';
import { endOf } from '../../score/time.ts';
import { defaultVoices } from './default-voices.ts';
import { writeOwnField, type OwnField, type OwnKey, type OwnVoice } from './own-field.ts';
import { versesOf } from './reading/verses.ts';
import { saysKey } from './says-key.ts';
import { sectionMarks, unnamedSections } from './section-marks.ts';
import { sungLines } from './sung-lines.ts';
import type { PartPlan } from './part-plan.ts';

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);

/** What the score has and its MusicXML does not say; null where that is nothing. */
export function ownFieldOf(whole: Score, plans: readonly PartPlan[]): string | null {
  const written = new Set(plans.flatMap(({ voices }) => voices));
  const score = { ...whole, voices: whole.voices.filter((voice) => written.has(voice)) };
  const voices = voicesOf(score, plans);
  const verses = usualVerses(score);
  const keys = keysOf(score);
  const sung = score.voices.find(({ notes }) =>
    notes.some(({ syllables }) => syllables?.some(Boolean)),
  );
  const field: OwnField = {
    ...(!same(score.sections, readSections(score)) && { sections: score.sections }),
    ...(!same(score.form, usualForm(score.sections, score.verses)) && { form: score.form }),
    ...(score.introduction.length > 0 && { introduction: score.introduction }),
    ...(score.melody !== (sung ?? score.voices[0])?.id && { melody: score.melody }),
    ...(voices && { voices }),
    ...(keys.length > 0 && { keys }),
    ...(!same(score.verses, verses) && { verses: score.verses }),
    ...(score.compass && { compass: score.compass }),
    ...(score.untimed && { untimed: true as const }),
  };
  return Object.keys(field).length === 0 ? null : writeOwnField(field);
}

function readSections(score: Score) {
  const marks = sectionMarks(score);
  if (marks.length === 0) return unnamedSections(score);
  return foundSections(marks, [], 0, endOf(score)).sections;
}

/** The voices as the file has them, where their names or places are not those that the parts give. */
function voicesOf(score: Score, plans: readonly PartPlan[]): OwnVoice[] | null {
  const usual = defaultVoices(
    plans.map(({ name, staves, voices }, i) => ({
      id: `P${String(i + 1)}`,
      name,
      staves: staves.length,
      voices: voices.map(({ staff }) => ({ staff: staves.indexOf(staff) + 1 })),
    })),
  );
  const own = plans.flatMap(({ voices }) =>
    voices.map((voice): OwnVoice => {
      const { id, name, group, staff } = voice;
      return { id, name, group, staff, order: score.voices.indexOf(voice) };
    }),
  );
  return same(own, usual) ? null : own;
}

/** The verses that a reader of the file finds without being told. */
function usualVerses(score: Score): Verse[] {
  const printed = new Map(
    score.verses.flatMap(({ number, lines }) =>
      lines && lines.length > 0 ? [[number, lines]] : [],
    ),
  );
  const lines = sungLines(score);
  // A line without syllables between others would close up.
  if (lines.some((line, i) => line !== i)) return [];
  const labels = lines.map((line) => {
    const label = score.verses[line]?.label ?? '';
    return score.verses.length > 1 && /^\d{1,3}[.):]?$/.test(label) ? label : '';
  });
  return versesOf(labels, printed);
}

function keysOf(score: Score): OwnKey[] {
  return score.keys.flatMap((key, i): OwnKey[] => {
    const { at, signature, sure, reason, others } = key;
    const before = score.keys[i - 1];
    const repeated = before?.signature === signature && before.key.mode === key.key.mode;
    const said = { key: key.key, sure, reason, others };
    const found = find(signature, score.voices, at, score.keys[i + 1]?.at ?? Infinity);
    if (same(said, found))
      return saysKey(key) || repeated ? [{ at, found: true, entry: null }] : [];
    const plain = saysKey(key) && same(said, named(key.key));
    if (plain && !repeated) return [];
    return [{ at, found: false, entry: plain ? null : said }];
  });
}
