import { Time, type Score, type Ticks } from '#music';
import { nextPlace, type Fineness } from './edit-beats.ts';
import { chordTextAt, isWritten, prettyChord, withFoundChords } from './edit-chords.ts';
import { doing, type Doing } from './edit-doing.ts';
import type { EditCommand } from './edit-keys.ts';
import { within, type Hand } from './edit-place.ts';

/** The hand where a chord can begin: anywhere in the score, after its end at the last beat. */
export function atChord(score: Score, hand: Hand): Hand {
  const inside = within(score, hand);
  if (inside.at < Time.endOf(score)) return inside;
  return { ...inside, at: nextPlace(score, inside.at, -1) ?? 0 };
}

/** The place after or before the hand's where a chord can begin, found chords included; at an end the hand's own. */
export function beside(
  score: Score,
  at: Ticks,
  direction: -1 | 1,
  fineness: Fineness = 'beat',
): Ticks {
  return nextPlace(withFoundChords(score), at, direction, fineness) ?? at;
}

function barBeside(score: Score, at: Ticks, direction: -1 | 1): Ticks {
  const starts = score.bars.map((bar) => bar.at);
  const next =
    direction > 0 ? starts.find((each) => each > at) : starts.findLast((each) => each < at);
  return next ?? at;
}

function erased(score: Score, hand: Hand): Doing {
  const there = { hand, sounds: [] };
  const { at } = hand;
  if (isWritten(score, at)) return { ...there, edits: [{ do: 'remove chord', at }], words: '' };
  const found = chordTextAt(score, at);
  const words = found
    ? `${prettyChord(found)} is found in the voices here. Write another chord, or no chord.`
    : 'No chord begins here.';
  return { ...there, edits: [], words };
}

const NOTES = 'Chords are written here. For notes choose Notes below the music.';

/** What a command does while chords are written: the hand goes from beat to beat, and no note is touched. */
export function doingChords(score: Score, hand: Hand, command: EditCommand): Doing {
  const only = (at: Ticks, words = ''): Doing => ({
    edits: [],
    hand: { ...hand, at },
    words,
    sounds: [],
  });
  switch (command.to) {
    case 'move': {
      const { by, direction } = command;
      if (by === 'bar') return only(barBeside(score, hand.at, direction));
      return only(beside(score, hand.at, direction, by === 'half beat' ? 'half' : 'beat'));
    }
    case 'go':
      return only(command.end === 'start' ? 0 : Time.endOf(score));
    case 'erase':
    case 'erase here':
      return erased(score, hand);
    case 'voice': {
      const done = doing(score, hand, command);
      return { ...done, hand: { ...done.hand, at: hand.at } };
    }
    default:
      return only(hand.at, NOTES);
  }
}
