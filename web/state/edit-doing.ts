import { Editing, Pitches, Time, type Edit, type Note, type PitchName, type Score } from '#music';
import type { EditCommand } from './edit-keys.ts';
import { sayLength, ticksOf, tupletOf } from './edit-length.ts';
import { voiceName } from './edit-voices.ts';
import {
  moved,
  movedByBar,
  noteBefore,
  noteHere,
  noteMeant,
  reachedFrom,
  settled,
  signatureAt,
  type Hand,
} from './edit-place.ts';
import { above, altered, halfStepped, nearest, octaved, stepped } from './edit-pitches.ts';

/** What a command comes to: edits in order (none: only the hand moves), where the hand is then, what to say and sound. */
export interface Doing {
  readonly edits: readonly Edit[];
  readonly hand: Hand;
  /** Where nothing is done: why, or where one is. */
  readonly words: string;
  readonly sounds: readonly PitchName[];
}

const only = (hand: Hand, words = ''): Doing => ({ edits: [], hand, words, sounds: [] });

const done = (edits: readonly Edit[], hand: Hand, sounds: readonly PitchName[] = []): Doing => ({
  edits,
  hand,
  words: '',
  sounds,
});

/** A note (or, without pitches, a rest) in the chosen length, with bars at the end where it needs them. */
function written(score: Score, hand: Hand, pitches: readonly PitchName[]): Doing {
  const { tuplet } = tupletOf(hand.length);
  const { edit, next } = Editing.stepped(score, hand, pitches, ticksOf(hand.length), tuplet);
  return done([edit], { ...hand, at: next }, pitches);
}

function repitched(hand: Hand, note: Note, pitches: readonly PitchName[]): Doing {
  return done([{ do: 'pitch', voice: hand.voice, at: note.at, pitches }], hand, pitches);
}

const NO_NOTE = 'There is no note here to change.';

function onNote(score: Score, hand: Hand, change: (note: Note) => Doing): Doing {
  const note = noteMeant(score, hand);
  return note ? change(note) : only(hand, NO_NOTE);
}

function inserted(pitches: readonly PitchName[], pitch: PitchName): PitchName[] {
  const others = pitches.filter((each) => Pitches.midiOf(each) !== Pitches.midiOf(pitch));
  return [...others, pitch].sort((a, b) => Pitches.midiOf(a) - Pitches.midiOf(b));
}

function repitch(
  score: Score,
  hand: Hand,
  { by, direction }: Extract<EditCommand, { to: 'pitch' }>,
): Doing {
  const signature = signatureAt(score, hand);
  const by1 = (pitch: PitchName): PitchName =>
    by === 'step'
      ? stepped(pitch, direction, signature)
      : by === 'semitone'
        ? halfStepped(pitch, direction, signature)
        : octaved(pitch, direction);
  return onNote(score, hand, (note) => {
    const pitches = note.pitches.map(by1);
    const { midi: low } = Pitches.requirePitch(pitches[0] ?? 'C4');
    // The keys of a piano: A0 to C8.
    if (low < 21 || Pitches.midiOf(pitches.at(-1) ?? 'C4') > 108)
      return only(hand, 'The keyboard ends here.');
    return repitched(hand, note, pitches);
  });
}

function alter(score: Score, hand: Hand, to: -1 | 0 | 1): Doing {
  return onNote(score, hand, (note) => {
    const last = note.pitches.at(-1) as PitchName;
    return repitched(hand, note, [...note.pitches.slice(0, -1), altered(last, to)]);
  });
}

function erase(score: Score, hand: Hand, back: boolean): Doing {
  const here = noteHere(score, hand);
  const target = here && here.pitches.length > 0 ? here : back ? noteBefore(score, hand) : null;
  if (!target) return only(hand, 'There is nothing here to erase.');
  const there = { ...hand, at: target.at };
  if (target.pitches.length === 0) return only(there);
  return done([{ do: 'erase', voice: hand.voice, at: target.at }], there);
}

/** The note that was just written sounds on for the chosen length, tied. */
function prolonged(score: Score, hand: Hand, note: Note): Doing {
  const { edits, hand: after } = written(score, hand, note.pitches);
  return done([...edits, { do: 'tie', voice: hand.voice, at: note.at, on: true }], after);
}

/** A tie, a slur or a fermata, on where there was none. */
function sign(score: Score, hand: Hand, which: 'tie' | 'slur' | 'fermata'): Doing {
  return onNote(score, hand, (note) => {
    const here = noteHere(score, hand);
    const isFree = !here || here.pitches.length === 0;
    if (which === 'tie' && isFree && note.at + note.length === hand.at)
      return prolonged(score, hand, note);
    const was = { tie: note.tie, slur: note.slurStarts, fermata: note.fermata }[which];
    return done([{ do: which, voice: hand.voice, at: note.at, on: !was }], hand);
  });
}

function relength(score: Score, hand: Hand): Doing {
  return onNote(score, hand, (note) => {
    const there = { ...hand, at: note.at };
    return done(written(score, there, note.pitches).edits, there, note.pitches);
  });
}

function nextVoice(score: Score, hand: Hand, direction: -1 | 1): Doing {
  const at = score.voices.findIndex(({ id }) => id === hand.voice);
  const count = score.voices.length;
  const voice = score.voices[(at + direction + count) % count];
  if (!voice || voice.id === hand.voice) return only(hand, 'This song has one voice.');
  return only(settled(score, { ...hand, voice: voice.id }), voiceName(voice));
}

/**
 * What a command does at the hand, without doing it. Letters take the octave that is nearest to the note before; undo,
 * redo and what opens a panel are not asked here.
 */
export function doing(score: Score, hand: Hand, command: EditCommand): Doing {
  switch (command.to) {
    case 'move':
      return only((command.by === 'bar' ? movedByBar : moved)(score, hand, command.direction));
    case 'go':
      return only({ ...hand, at: command.end === 'start' ? 0 : Time.endOf(score) });
    case 'voice':
      return nextVoice(score, hand, command.direction);
    case 'letter': {
      const signature = signatureAt(score, hand);
      if (!command.add) {
        const pitch = nearest(command.letter, reachedFrom(score, hand), signature);
        return written(score, hand, [pitch]);
      }
      return onNote(score, hand, (note) => {
        const pitch = above(command.letter, note.pitches.at(-1) as PitchName, signature);
        return repitched(hand, note, inserted(note.pitches, pitch));
      });
    }
    case 'play':
      if (!command.add) return written(score, hand, [command.pitch]);
      return onNote(score, hand, (note) =>
        repitched(hand, note, inserted(note.pitches, command.pitch)),
      );
    case 'pitch':
      return repitch(score, hand, command);
    case 'alter':
      return alter(score, hand, command.alter);
    case 'rest':
      return written(score, hand, []);
    case 'erase':
    case 'erase here':
      return erase(score, hand, command.to === 'erase');
    case 'tie':
    case 'slur':
    case 'fermata':
      return sign(score, hand, command.to);
    case 'relength':
      return relength(score, hand);
    case 'length': {
      // Another value is chosen plain: a dot left on would lengthen what nobody dotted.
      const length = { base: command.base, dotted: false, triplet: false };
      return only({ ...hand, length }, sayLength(ticksOf(length)));
    }
    case 'dot': {
      const length = { ...hand.length, dotted: !hand.length.dotted, triplet: false };
      return only({ ...hand, length }, sayLength(ticksOf(length)));
    }
    case 'triplet': {
      const length = { ...hand.length, triplet: !hand.length.triplet, dotted: false };
      return only({ ...hand, length }, sayLength(ticksOf(length)));
    }
    default:
      return only(hand);
  }
}
