import { success, type Failure, type Result } from '../result.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import type { Loop, Pass, Score, Section, SectionKind } from '../score/score.ts';
import { melodyOf } from '../score/time.ts';
import type { SectionEdit } from './edit.ts';
import { sayBegin } from './place-words.ts';
import { halfBar } from './bars.ts';
import { isWhole, missingBar, refused, refusedAt, withoutTime } from './refusal.ts';
import { tidied } from './typed-text.ts';

type Of<K extends SectionEdit['do']> = Extract<SectionEdit, { readonly do: K }>;

/** What a section is called and how it is left, or why not. */
function faceOf(
  kind: SectionKind,
  given: string,
  loop: Loop | null | undefined,
): { kind: SectionKind; name: string; loop?: Loop } | string {
  const name = tidied(given);
  if (name === '') return 'A section needs a name.';
  if (name.length > SCORE_LIMITS.name) return 'That is too long for the name of a section.';
  if (!loop) return { kind, name };
  if (kind !== 'vamp') return `Only a vamp is left on a cue; ${name} is none.`;
  if (loop.cue.length > SCORE_LIMITS.line) return 'That is too long for a cue.';
  return { kind, name, loop: { cue: tidied(loop.cue), amen: loop.amen } };
}

/** `Verse 1` → `verse-1`; numbered where it is taken. A part puts an `introduction` before a song that has none. */
export function freeId(name: string, sections: readonly { readonly id: string }[]): string {
  const taken = new Set(['introduction', ...sections.map(({ id }) => id)]);
  const base = name.toLowerCase().replace(/[^\p{L}\d]+/gu, '-').replace(/^-|-$/g, '') || 'section'; // prettier-ignore
  let id = base;
  for (let count = 2; taken.has(id); count += 1) id = `${base}-${count}`;
  return id;
}

/** Whether more than one verse has words of its own in a span. */
function isSungByVerse(score: Score, { from, to }: Pick<Section, 'from' | 'to'>): boolean {
  const inside = melodyOf(score).notes.filter(({ at }) => at >= from && at < to);
  const sung = score.verses.filter((_, i) => inside.some(({ syllables }) => syllables?.[i]));
  return sung.length > 1;
}

/** Null: a section can begin there. */
function beginsNowhere(score: Score, { bar: index, at }: Of<'begin section'>): Failure | null {
  if (at === undefined) return halfBar(score, index);
  const bar = score.bars[index];
  const isInside = bar && isWhole(at, bar.at, bar.at + bar.length - 1);
  if (!isInside) return refused('That place lies outside the bar.');
  if (at > bar.at && score.untimed) return withoutTime(score);
  const begins = at === bar.at || melodyOf(score).notes.some((note) => note.at === at);
  return begins
    ? null
    : refusedAt(score, at, 'no note of the tune begins there, so no section can.');
}

function begin(score: Score, edit: Of<'begin section'>): Result<Score> {
  const missing = missingBar(score, edit.bar) ?? beginsNowhere(score, edit);
  if (missing) return missing;
  const bar = score.bars[edit.bar];
  const at = edit.at ?? bar?.at ?? 0;
  const index = score.sections.findIndex(({ from, to }) => from <= at && at < to);
  const around = score.sections[index];
  if (!bar || !around) return refused('The song has no such bar.');
  if (around.from === at) {
    return refused(`${around.name} begins with ${sayBegin(score, bar, at)} already. Change that section, or join it to the one before.`); // prettier-ignore
  }
  if (score.sections.length >= SCORE_LIMITS.sections) {
    return refused(`A song has at most ${SCORE_LIMITS.sections} sections.`);
  }
  const face = faceOf(edit.kind, edit.name, edit.loop);
  if (typeof face === 'string') return refused(face);
  const id = freeId(face.name, score.sections);
  const section: Section = { id, ...face, from: at, to: around.to };
  const sections = score.sections.toSpliced(index, 1, { ...around, to: at }, section);
  const byVerse = face.kind === 'verse' || face.kind === 'other' || isSungByVerse(score, section);
  const form = score.form.flatMap((pass): Pass[] =>
    pass.section === around.id
      ? [pass, { section: id, verse: byVerse ? pass.verse : null }]
      : [pass],
  );
  if (form.length > SCORE_LIMITS.passes) {
    return refused(`A song has at most ${SCORE_LIMITS.passes} passes.`);
  }
  return success({ ...score, sections, form });
}

function change(score: Score, edit: Of<'section'>): Result<Score> {
  const index = score.sections.findIndex(({ id }) => id === edit.id);
  const section = score.sections[index];
  if (!section) return refused('The song has no such section.');
  const face = faceOf(edit.kind, edit.name, edit.loop);
  if (typeof face === 'string') return refused(face);
  const { kind: _kind, name: _name, loop: _loop, ...rest } = section;
  return success({ ...score, sections: score.sections.with(index, { ...rest, ...face }) });
}

/** Passes of the joined section that come right after the other are part of it now; elsewhere they become it. */
function join(score: Score, { id }: Of<'join section'>): Result<Score> {
  const index = score.sections.findIndex((section) => section.id === id);
  const section = score.sections[index];
  if (!section) return refused('The song has no such section.');
  const before = score.sections[index - 1];
  if (!before) return refused(`${section.name} is the first section; there is none before it.`);
  const sections = score.sections.toSpliced(index - 1, 2, { ...before, to: section.to });
  const form = score.form.flatMap((pass, i): Pass[] => {
    if (pass.section !== id) return [pass];
    return score.form[i - 1]?.section === before.id ? [] : [{ ...pass, section: before.id }];
  });
  return success({ ...score, sections, form });
}

function arrange(score: Score, { form }: Of<'form'>): Result<Score> {
  if (form.length === 0) return refused('A song is sung in at least one pass.');
  if (form.length > SCORE_LIMITS.passes) {
    return refused(`A song has at most ${SCORE_LIMITS.passes} passes.`);
  }
  for (const { section, verse } of form) {
    if (!score.sections.some(({ id }) => id === section)) {
      return refused('The order names a section that the song has not.');
    }
    const isKnown = verse === null || score.verses.some(({ number }) => number === verse);
    const wasThere = score.form.some((pass) => pass.verse === verse);
    if (!isKnown && !(wasThere && isWhole(verse, 1))) return refused(`The song has no verse ${verse}.`); // prettier-ignore
  }
  return success({ ...score, form: form.map(({ section, verse }) => ({ section, verse })) });
}

export const SECTIONS = {
  'begin section': begin,
  section: change,
  'join section': join,
  form: arrange,
};
