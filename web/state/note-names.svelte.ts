import { NoteNames, type NamedNotes } from '#music';

const STORED = 'partbook.note-names';

/** What notes are called, as it stands on the buttons: the naturals, or the degrees. */
export const NAMES: readonly { readonly names: NamedNotes; readonly words: string }[] = [
  { names: 'english', words: NoteNames.naturals('english').join(' ') },
  { names: 'german', words: NoteNames.naturals('german').join(' ') },
  { names: 'solfege', words: NoteNames.naturals('solfege').join(' ').toLowerCase() },
  { names: 'numbers', words: '1 2 3 4 5 6 7' },
];

function stored(): NamedNotes {
  try {
    const kept = localStorage.getItem(STORED);
    return NoteNames.NOTE_NAMES.find((each) => each === kept) ?? 'english';
  } catch {
    return 'english';
  }
}

/** What a packet says of its names before it is made; empty: English needs no word. */
export function packetNames(names: NamedNotes): string {
  if (names === 'english') return '';
  if (names === 'numbers') return 'Chords are numbers in it, as on this device.';
  const words = NAMES.find((each) => each.names === names)?.words ?? '';
  return `Notes are called ${words} in it, as on this device.`;
}

/** What notes are called on this device; remembered there. */
export class NamesOnDevice {
  chosen = $state<NamedNotes>(stored());

  choose(names: NamedNotes): void {
    this.chosen = names;
    try {
      localStorage.setItem(STORED, names);
    } catch {
      // They are called so as long as the page is open.
    }
  }
}
