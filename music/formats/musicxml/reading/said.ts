import type { Report } from '../../report.ts';
import type { Frame } from './bars.ts';
import type { ReadNote } from './read-note.ts';
import type { Moment, ReadPart } from './read-part.ts';
import type { ReadVoice } from './voices.ts';

/** Signs that stand at the end of the bar whose last note they belong to. */
const AT_END = /^(fine|dacoda|D\.[CS]\.)/;

/** Signs, pedal and words above the staff become marks of the notes where they stand. */
export function setSaid(
  voices: readonly ReadVoice[],
  frame: Frame,
  nameOf: (part: ReadPart) => string,
  report: Report,
): void {
  const jumps = new Set<string>();
  for (const part of new Set(voices.map((voice) => voice.part))) {
    const own = voices.filter((voice) => voice.part === part);
    for (const { said, staff, voice: name, ...moment } of part.said) {
      if (said.kind === 'tempo' || said.kind === 'section') continue;
      const voice =
        own.find((each) => each.name === name && each.staff === staff) ??
        own.find((each) => each.name === name) ??
        own.find((each) => each.staff === staff) ??
        own[0];
      if (!voice) continue;
      const late = said.kind === 'sign' && AT_END.test(said.text);
      const kind = late ? 'late' : said.kind === 'pedal' ? 'next' : 'sounding';
      const note = noteFor(voice, moment, frame, kind);
      if (!note) continue;
      if (said.kind === 'above') note.above.push(said.text);
      else if (said.kind === 'pedal') {
        const both = note.pedal !== null && note.pedal !== said.to;
        note.pedal = both ? 'change' : said.to;
      } else {
        const place = `${String(note.measure)} ${said.text}`;
        const isJump = !said.text.startsWith('"');
        // Every part prints the same way through the song; the first has it.
        if (isJump && jumps.has(place) && name === null) continue;
        jumps.add(place);
        if (!note.signs.includes(said.text)) note.signs.push(said.text);
        if (isJump) tellJump(said.text, moment, part, nameOf, report);
      }
    }
  }
}

function tellJump(
  sign: string,
  moment: Moment,
  part: ReadPart,
  nameOf: (part: ReadPart) => string,
  report: Report,
): void {
  const bar = part.measures[moment.measure]?.number ?? '?';
  const words = `Bar ${bar} of ${nameOf(part)} has the sign “${sign}”; it is kept as a sign, and the way through the song is set by its form.`;
  report.warn('info-jump', words, { line: moment.line });
}

/**
 * The note that begins at a moment; else the one that sounds then, or for the pedal the next. With `late` at the end of
 * a bar the last one in it.
 */
function noteFor(
  voice: ReadVoice,
  { measure, at }: Moment,
  frame: Frame,
  kind: 'late' | 'next' | 'sounding',
): ReadNote | undefined {
  const { notes } = voice;
  const atEnd = at >= (frame.lengths[measure] ?? 0);
  if (kind === 'late' && atEnd) return notes.findLast((note) => note.measure === measure);
  const next = notes.find((note) =>
    note.measure === measure ? note.at >= at : note.measure > measure,
  );
  if (kind === 'next' || atEnd || (next?.measure === measure && next.at === at)) return next;
  return notes.findLast((note) => note.measure === measure && note.at < at) ?? next;
}
