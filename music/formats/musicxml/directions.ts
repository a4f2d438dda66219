import type { Note, Tempo, Voice } from '../../score/score.ts';
import { quartersPerMinute } from '../../score/tempos.ts';
import { jumpOfSign, type Jump } from './jumps.ts';
import type { VoiceContext } from './note.ts';
import { beatUnit } from './note-value.ts';
import { el, text, type Xml } from './xml.ts';

/** Where a direction belongs: its voice only where a file is read again, so that it finds its note. */
function place(context: VoiceContext, file: boolean): (Xml | false)[] {
  return [
    file && text('voice', context.voice),
    context.staff !== null && text('staff', context.staff),
  ];
}

const PEDAL = { down: 'start', up: 'stop', change: 'change' } as const;

function jumpXml(jump: Jump, context: VoiceContext): Xml {
  return el(
    'direction',
    { placement: 'above' },
    el('direction-type', {}, jump.words === '' ? el(jump.sign) : text('words', jump.words)),
    place(context, true),
    el('sound', jump.sound),
  );
}

/**
 * Signs of the pedal are printed under the lowest staff, whichever hand they go with. In a file they stay with their note.
 * @param lowest number of that staff in the part; null: it has one
 */
function pedalXml(
  pedal: keyof typeof PEDAL,
  context: VoiceContext,
  lowest: number | null,
  file: boolean,
): Xml {
  const sign = el('pedal', { type: PEDAL[pedal], line: 'no', sign: 'yes' });
  return el(
    'direction',
    { placement: 'below' },
    el('direction-type', {}, sign),
    place(file ? context : { ...context, staff: lowest }, file),
  );
}

/** A pedal that is down at the end of a part is released there, after the last note of the voice that pressed it. */
export function lastPedal(
  voices: readonly { readonly voice: Voice; readonly context: VoiceContext }[],
  voice: Voice,
  lowest: number | null,
  file: boolean,
): Xml | false {
  const last = voices
    .flatMap((each) => each.voice.notes.map((note) => ({ note, ...each })))
    .filter(({ note }) => note.pedal !== undefined)
    .reduce<{ at: number; is: Voice; up: boolean; context: VoiceContext } | null>(
      (found, { note, voice: is, context }) =>
        found && found.at > note.at ? found : { at: note.at, is, up: note.pedal === 'up', context },
      null,
    );
  return (
    last !== null && !last.up && last.is === voice && pedalXml('up', last.context, lowest, file)
  );
}

/** What stands over or under a note and is no part of it: ways through the song, words, the pedal. */
export function directionsOf(
  note: Note,
  context: VoiceContext,
  lowest: number | null,
  file: boolean,
): Xml[] {
  const found: Xml[] = [];
  for (const sign of file ? (note.signs ?? []) : []) {
    const jump = jumpOfSign(sign);
    if (jump) found.push(jumpXml(jump, context));
  }
  if (note.above !== undefined) {
    const words = text('words', note.above, { 'font-style': 'italic' });
    found.push(
      el(
        'direction',
        { placement: 'above' },
        el('direction-type', {}, words),
        place(context, file),
      ),
    );
  }
  if (note.pedal) found.push(pedalXml(note.pedal, context, lowest, file));
  return found;
}

/**
 * A tempo as a metronome's mark, where a note value says its beat, and for programs that play.
 * @param exact a page shows whole beats a minute
 */
export function tempoXml(tempo: Tempo, printed: boolean, exact: boolean): Xml {
  const perMinute = Math.round(quartersPerMinute(tempo) * 1000) / 1000;
  const sound = el('sound', { tempo: perMinute });
  const unit = beatUnit(tempo.beat);
  if (!printed || !unit) return sound;
  const metronome = el(
    'metronome',
    {},
    text('beat-unit', unit.type),
    Array.from({ length: unit.dots }, () => el('beat-unit-dot')),
    text('per-minute', exact ? tempo.perMinute : Math.round(tempo.perMinute)),
  );
  return el('direction', { placement: 'above' }, el('direction-type', {}, metronome), sound);
}

/** The name of a section where it begins, with how many divisions into its bar. */
export function sectionXml(name: string, offset: number, staff: number | null): Xml {
  return el(
    'direction',
    { placement: 'above' },
    el('direction-type', {}, text('rehearsal', name, { enclosure: 'none' })),
    offset !== 0 && text('offset', offset),
    staff !== null && text('staff', staff),
  );
}
