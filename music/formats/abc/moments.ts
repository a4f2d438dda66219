import type { Chord } from '../../pitch/chord.ts';
import { read as readChord } from '../../pitch/chord-symbol.ts';
import type { Result } from '../../result.ts';
import type { ChordAt, Pass, Section, Span, Ticks, Verse } from '../../score/score.ts';
import type { ReadNote } from './layer.ts';
import type { Mark } from './marks.ts';
import { formOf } from './part-order.ts';
import { quoted, type Report } from '../report.ts';
import { kindOf, type SectionStart } from '../../score/sections.ts';
import type { ReadTune } from './read-tune.ts';
import type { VoiceReader } from './voice-reader.ts';

/** Chord symbols of all voices, each lasting until the next. */
export function chordsOf(voices: readonly VoiceReader[], end: Ticks, report: Report): ChordAt[] {
  const marks = voices.flatMap((voice) => voice.chords).sort((a, b) => a.at - b.at);
  const chords: ChordAt[] = [];
  const known = new Map<string, Result<Chord>>();
  for (const { at, text, line, column } of marks) {
    if (/^\s*n\.?\s*c\.?\s*$/i.test(text)) {
      addChord(chords, { at, length: 0, chord: null }, line, report);
      continue;
    }
    const read = known.get(text) ?? readChord(text);
    known.set(text, read);
    if (!read.ok) {
      const words = `${quoted(text)} is not a chord symbol: ${read.problems[0]?.message ?? ''} It is left out.`;
      report.warn('chord-not-read', words, { line, column });
    } else addChord(chords, { at, length: 0, chord: read.value }, line, report);
  }
  return chords
    .filter((chord) => chord.at < end)
    .map((chord, i, all) => ({ ...chord, length: (all[i + 1]?.at ?? end) - chord.at }));
}

function addChord(chords: ChordAt[], chord: ChordAt, line: number, report: Report): void {
  const last = chords.at(-1);
  if (last?.at !== chord.at) chords.push(chord);
  else if (JSON.stringify(last.chord) !== JSON.stringify(chord.chord)) {
    report.warn(
      'chords-at-once',
      'Two different chord symbols stand at one moment; the first is kept.',
      { line },
    );
  }
}

/** What `!sintro!` and `!eintro!` enclose. */
export function introductionOf(voices: readonly VoiceReader[], end: Ticks, report: Report): Span[] {
  const spans: Span[] = [];
  let open: (Mark & { opens: boolean }) | null = null;
  const marks = voices.flatMap((voice) => voice.introduction).sort((a, b) => a.at - b.at);
  for (const mark of marks) {
    if (mark.opens) {
      if (open) report.warn('introduction-twice', 'The introduction begins twice.', open);
      else open = mark;
    } else if (open && mark.at > open.at) {
      spans.push({ from: open.at, to: mark.at });
      open = null;
    } else
      report.warn(
        'introduction-not-opened',
        'The introduction ends here but does not begin.',
        mark,
      );
  }
  if (open) {
    report.warn(
      'introduction-not-closed',
      'The introduction begins here and goes on to the end.',
      open,
    );
    if (open.at < end) spans.push({ from: open.at, to: end });
  }
  return spans;
}

/** Sections that the source names, by `P:` or above the staff. */
export function namedSections(voices: readonly VoiceReader[]): SectionStart[] {
  return inOrder(
    voices.flatMap((voice) => [
      ...voice.parts.map(({ at, name }): SectionStart => ({ at, name })),
      ...labelled(voice.main.notes),
    ]),
  );
}

/** Annotations above the staff that name a section: `"^Refrain"`. */
function labelled(notes: readonly ReadNote[]): SectionStart[] {
  return notes.flatMap((note) =>
    note.signs
      .filter(
        (sign) =>
          /^"[\^_<>@]/.test(sign) && !['other', 'ending'].includes(kindOf(sign.slice(2, -1))),
      )
      .map((sign) => ({ at: note.at, name: sign.slice(2, -1) })),
  );
}

function inOrder(starts: readonly SectionStart[]): SectionStart[] {
  const sorted = [...starts].sort((a, b) => a.at - b.at);
  return sorted.filter((start, i) => start.at !== sorted[i - 1]?.at);
}

/** The form our own writer notes down where it is not the usual one: `verse:1 refrain verse:2`. */
export function ownForm(
  tune: ReadTune,
  sections: readonly Section[],
  report: Report,
): Pass[] | null {
  const own = tune.own.find(({ name }) => name === 'form');
  if (!own) return null;
  const form = own.value
    .split(' ')
    .filter((each) => each !== '')
    .map((each): Pass => {
      const [section = '', verse] = each.split(':');
      return { section, verse: verse === undefined ? null : Number(verse) };
    });
  const known = form.every(
    ({ section, verse }) => sections.some(({ id }) => id === section) && !Number.isNaN(verse),
  );
  if (known) return form;
  report.warn(
    'form-odd',
    'The form of this file names sections that it has not; the usual form is taken.',
    { line: own.line },
  );
  return null;
}

/** The form by `P:` in the head; null: there is none, or it names parts that the tune has not. */
export function orderedForm(
  tune: ReadTune,
  sections: readonly Section[],
  verses: readonly Verse[],
  report: Report,
): Pass[] | null {
  if (!tune.order) return null;
  const form = formOf(tune.order.parts, sections, verses);
  if (form) return form;
  const words = `The order of the parts, ${quoted(tune.order.parts.join(''))}, names one that the tune has not; the usual form is taken.`;
  report.warn('order-odd', words, { line: tune.order.line });
  return null;
}
