// Made by least-motion.make.ts; a test holds it against a new making.
/** Progressions from a root position with every least way, low to high, by exhaustive search over closed triads. */
export const PROGRESSIONS = [
  {
    name: 'I–V–vi–IV, C',
    chords: ['C', 'G', 'Am', 'F'],
    start: 'C4 E4 G4',
    total: 9,
    ways: ['C4 E4 G4 | B3 D4 G4 | C4 E4 A4 | C4 F4 A4'],
  },
  {
    name: 'I–V–vi–IV, G',
    chords: ['G', 'D', 'Em', 'C'],
    start: 'G4 B4 D5',
    total: 9,
    ways: ['G4 B4 D5 | F#4 A4 D5 | G4 B4 E5 | G4 C5 E5'],
  },
  {
    name: 'I–V–vi–IV, D',
    chords: ['D', 'A', 'Bm', 'G'],
    start: 'D4 F#4 A4',
    total: 9,
    ways: ['D4 F#4 A4 | C#4 E4 A4 | D4 F#4 B4 | D4 G4 B4'],
  },
  {
    name: 'I–V–vi–IV, E',
    chords: ['E', 'B', 'C#m', 'A'],
    start: 'E4 G#4 B4',
    total: 9,
    ways: ['E4 G#4 B4 | D#4 F#4 B4 | E4 G#4 C#5 | E4 A4 C#5'],
  },
  {
    name: 'I–V–vi–IV, A',
    chords: ['A', 'E', 'F#m', 'D'],
    start: 'A3 C#4 E4',
    total: 9,
    ways: ['A3 C#4 E4 | G#3 B3 E4 | A3 C#4 F#4 | A3 D4 F#4'],
  },
  {
    name: 'I–V–vi–IV, Bb',
    chords: ['Bb', 'F', 'Gm', 'Eb'],
    start: 'Bb3 D4 F4',
    total: 9,
    ways: ['Bb3 D4 F4 | A3 C4 F4 | Bb3 D4 G4 | Bb3 Eb4 G4'],
  },
  {
    name: 'I–IV–V–I, C',
    chords: ['C', 'F', 'G', 'C'],
    start: 'C4 E4 G4',
    total: 12,
    ways: [
      'C4 E4 G4 | C4 F4 A4 | B3 D4 G4 | C4 E4 G4',
      'C4 E4 G4 | C4 F4 A4 | D4 G4 B4 | E4 G4 C5',
    ],
  },
  {
    name: 'I–vi–IV–V, C',
    chords: ['C', 'Am', 'F', 'G'],
    start: 'C4 E4 G4',
    total: 9,
    ways: [
      'C4 E4 G4 | C4 E4 A4 | C4 F4 A4 | B3 D4 G4',
      'C4 E4 G4 | C4 E4 A4 | C4 F4 A4 | D4 G4 B4',
    ],
  },
  {
    name: 'I–vi–ii–V, F',
    chords: ['F', 'Dm', 'Gm', 'C'],
    start: 'F4 A4 C5',
    total: 9,
    ways: ['F4 A4 C5 | F4 A4 D5 | G4 Bb4 D5 | G4 C5 E5'],
  },
  {
    name: 'vi–IV–I–V, G',
    chords: ['Em', 'C', 'G', 'D'],
    start: 'E4 G4 B4',
    total: 7,
    ways: ['E4 G4 B4 | E4 G4 C5 | D4 G4 B4 | D4 F#4 A4'],
  },
  {
    name: 'I–IV–I–V–I, Eb',
    chords: ['Eb', 'Ab', 'Eb', 'Bb', 'Eb'],
    start: 'Eb4 G4 Bb4',
    total: 12,
    ways: ['Eb4 G4 Bb4 | Eb4 Ab4 C5 | Eb4 G4 Bb4 | D4 F4 Bb4 | Eb4 G4 Bb4'],
  },
  {
    name: 'I–iii–IV–V, A',
    chords: ['A', 'C#m', 'D', 'E'],
    start: 'A3 C#4 E4',
    total: 11,
    ways: [
      'A3 C#4 E4 | G#3 C#4 E4 | A3 D4 F#4 | B3 E4 G#4',
      'A3 C#4 E4 | G#3 C#4 E4 | A3 D4 F#4 | G#3 B3 E4',
    ],
  },
  {
    name: 'I–bVII–IV–I, G',
    chords: ['G', 'F', 'C', 'G'],
    start: 'G3 B3 D4',
    total: 12,
    ways: [
      'G3 B3 D4 | A3 C4 F4 | G3 C4 E4 | G3 B3 D4',
      'G3 B3 D4 | F3 A3 C4 | E3 G3 C4 | D3 G3 B3',
    ],
  },
  {
    name: 'I–V–vi–iii–IV–I–IV–V, D',
    chords: ['D', 'A', 'Bm', 'F#m', 'G', 'D', 'G', 'A'],
    start: 'D4 F#4 A4',
    total: 27,
    ways: [
      'D4 F#4 A4 | C#4 E4 A4 | D4 F#4 B4 | C#4 F#4 A4 | D4 G4 B4 | D4 F#4 A4 | D4 G4 B4 | C#4 E4 A4',
      'D4 F#4 A4 | C#4 E4 A4 | D4 F#4 B4 | C#4 F#4 A4 | D4 G4 B4 | D4 F#4 A4 | D4 G4 B4 | E4 A4 C#5',
    ],
  },
];

/** Least one-to-one motion between two triads; entry n: the root goes up n semitones. */
export const TRIAD_DISTANCES = {
  'major major': [0, 3, 6, 3, 2, 3, 6, 3, 2, 3, 6, 3],
  'major minor': [1, 2, 5, 4, 1, 2, 5, 4, 3, 2, 5, 4],
  'minor major': [1, 4, 5, 2, 3, 4, 5, 2, 1, 4, 5, 2],
  'minor minor': [0, 3, 6, 3, 2, 3, 6, 3, 2, 3, 6, 3],
};
