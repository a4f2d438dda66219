import type { Problem } from '../../result.ts';
import { QUARTER, type Ticks } from '../../score/score.ts';
import type { Smf } from './smf.ts';
import type { SmfNote, SmfText } from './smf-track.ts';

/** Channel 10 is the drums (General MIDI 1), counted from 0. */
export const DRUMS = 9;

/** A note of a part on the time line of a score. */
export interface PartNote {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly midi: number;
}

/** One channel of one track: what one player or singer has. */
export interface MidiPart {
  /** Counted from 0 over the whole file. */
  readonly index: number;
  readonly name: string;
  /** In order of time, then from high to low. */
  readonly notes: readonly PartNote[];
  /** Every note is struck as hard as the first: a program made it, no hand. */
  readonly isEven: boolean;
  /** All texts of its track. */
  readonly texts: readonly SmfText[];
}

/** Ticks of a file on the time line of a score, to the nearest. */
export function ticksOf(smf: Smf): (moment: number) => Ticks {
  const { division } = smf;
  return (moment) => Math.round((moment * QUARTER) / division);
}

/** The parts that have notes with a pitch, in the order of the file. */
export function partsOf(smf: Smf): { parts: MidiPart[]; drums: number } {
  const parts: MidiPart[] = [];
  const ticks = ticksOf(smf);
  let drums = 0;
  for (const { index: track, notes, texts } of smf.tracks) {
    const channels = new Map<number, SmfNote[]>();
    for (const note of notes) {
      if (note.channel === DRUMS) drums += 1;
      else {
        const list = channels.get(note.channel);
        if (list) list.push(note);
        else channels.set(note.channel, [note]);
      }
    }
    const own =
      texts.find(({ kind }) => kind === 'name') ?? texts.find(({ kind }) => kind === 'instrument');
    for (const [channel, played] of [...channels].sort(([a], [b]) => a - b)) {
      const index = parts.length;
      const said = tidy(own?.text ?? '');
      const many = channels.size > 1;
      const name =
        said !== '' && !many
          ? said
          : `${said === '' ? `Track ${String(track + 1)}` : said}${many ? `, channel ${String(channel + 1)}` : ''}`;
      const list = played.map(({ at, end, midi }) => ({ at: ticks(at), end: ticks(end), midi }));
      list.sort((a, b) => a.at - b.at || b.midi - a.midi);
      const isEven = played.every(({ force }) => force === played[0]?.force);
      parts.push({ index, name, notes: list, isEven, texts });
    }
  }
  return { parts, drums };
}

/** A text of the file as it can stand in a name: without control characters, in one line, not too long. */
export function tidy(text: string): string {
  const clean = text.replace(/[\p{Cc}\s]+/gu, ' ').trim();
  return clean.length > 200 ? `${clean.slice(0, 199)}…` : clean;
}

/** Whether two notes of a part ever begin together: then it is played in chords. */
export function hasChords(part: MidiPart): boolean {
  const { notes } = part;
  let most = 0;
  for (let i = 1; i < notes.length; i += 1) {
    const [before, note] = [notes[i - 1] as PartNote, notes[i] as PartNote];
    // One chord in fifty notes is a slip of the hand.
    if (note.at - before.at < QUARTER / 12) most += 1;
  }
  return most > notes.length / 50;
}

/** What is left out, said. */
export function tellLeftOut(drums: number, warnings: Problem[]): void {
  if (drums === 0) return;
  const message = `The drums (channel 10, ${String(drums)} strokes) have no pitch and are left out.`;
  warnings.push({ code: 'info-drums', message });
}
