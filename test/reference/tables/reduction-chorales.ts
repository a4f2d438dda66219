/**
 * Ten chorales of J. S. Bach (Riemenschneider 1–10) as notes, with the root of the chord on each beat as analysts
 * heard it. Notes and Roman numerals: the corpus of music21 10.5 (Cuthbert and others); analyses by Andrew Jones
 * (1–6) and Dmitri Tymoczko (7–10), turned into roots by music21. The music is in the public domain.
 */
export interface Chorale {
  readonly number: number;
  readonly bwv: string;
  readonly title: string;
  readonly key: string;
  readonly meter: string;
  readonly voices: Readonly<Record<'S' | 'A' | 'T' | 'B', string>>;
  /** `quarter from the start:root`, each until the next. */
  readonly roots: string;
}

export const CHORALES: readonly Chorale[] = [
  {
    number: 1,
    bwv: '269',
    title: 'Aus meines Herzens Grunde',
    key: 'G',
    meter: '3/4',
    voices: {
      S: 'G4 | G4:2 D5 | B4:3/2 A4:1/2 G4 | G4:3/2 A4:1/2 B4 | A4:2! B4 | D5:2 C5 | B4 A4:2 | G4:2! | B4 | B4 C5 D5 | D5:3/2 C5:1/2 B4 | A4:2! G4 | B4:2 C5 | D5:2 C5 | B4:3 | G4:2! | B4 | D5:2 C5 | B4:2 A4 | G4:3/2 A4:1/2 B4 | A4:2! B4 | D5:2 C5 | B4 A4:2 | G4:2!',
      A: 'D4 D4 E4 D4 D4:2 B3 E4:1/2 D4:1/2 E4:1/2 F#4:1/2 G4 F#4:2! G4 D4 E4 F#4 G4:2 F#4 D4:2! G4 G4:1/2 F#4:1/2 E4:1/2 F#4:1/2 G4~ G4:1/2 A4:1/2 G4:1/2 F#4:1/2 G4 F#4:2! E4 E4 F#4:1/2 G4:1/2 A4 A4 G4:3/2 F#4:1/2 G4:2 F4 E4:2! G4 A4:3/2 G4:1/2 F#4 G4:2 F#4 F#4:1/2 E4:1/2 E4:1/2 F#4:1/2 G4 F#4:2! G4 A4:2 G4:1/2 F#4:1/2 G4:2 F#4 D4:2!',
      T: 'B3 B3 C4:1/2 B3:1/2 A3 G3 F#3 G3 C4:1/2 B3:1/2 C4 D4 D4:2! D4 A3 B3 C4 D4 E4 D4:1/2 C4:1/2 B3:2! D4 D4 C4 B3:1/2 A3:1/2 B3:1/2 C4:1/2 D4 D4 D4:2! B3 G3 B3 E4 D4:2 D4 D4:3 C4:2! D4 D4:1/2 C4:1/2 B3 C4 D4:2 D4:1/2 C4:1/2 B3 C4 D4 D4:2! D4 D4:2 E4 E4:2 D4:1/2 C4:1/2 B3:2!',
      B: 'G2 G3 E3 F#3 G3 D3 E3 C3 B2:1/2 A2:1/2 G2 D3:2! G2 F#2 G2 A2 B2 C3 D3 G2:2! G2 G2 A2 B2 B2:3/2 A2:1/2 G2 D3:2! E3~ E3 D3 C3 B2:3/2 C3:1/2 D3 G2:1/2 A2:1/2 B2 G2 C3:2! G2 F#2 G2 A2 B2 G2 D3 E3:1/2 D3:1/2 C3:1/2 B2:1/2 A2:1/2 G2:1/2 D3:2! G3~ G3 F#3 E3~ E3:1/2 D3:1/2 C3 D3 G2:2!',
    },
    roots:
      '0:G 2:C 3:D 4:G 5:D 6:E 7:C 8.5:F# 9:G 10:D 12:G 13:D 14:E 15:F# 16:G 17:A 18:D 19:G 23:A 23.5:F# 24:G 26.5:D 27:G 28:D 30:E 32:B 33:A 34:G 36:D 37:G 40:C 42:G 43:D 44:G 45:F# 46:G 48:D 49:E 50:C 51:G 52:D 54:G 55:D 57:C 58:E 59:A 60:D 61:G',
  },
  {
    number: 2,
    bwv: '347',
    title: 'Ich dank dir, lieber Herre',
    key: 'A',
    meter: '4/4',
    voices: {
      S: 'A4 | A4 A4 A4 B4 | G4 F#4 E4! B4 | C#5 B4 A4 G#4:1/2 F#4:1/2 | G#4 F#4 E4! | E5 | D5 C#5 B4 A4 | A4:1/2 B4:1/2 C#5 B4! C#5 | D5 C#5 B4 A#4 | B4:3! | E4 | A4 B4 C#5 D5 | E5 D5:1/2 C#5:1/2 B4! D5 | C#5 B4 E5:3/2 D5:1/2 | C#5:1/2 B4:1/2 A4:1/2 B4:1/2 C#5 B4 | A4:3!',
      A: 'E4 F#4 E4 F#4 F#4 E4 D#4 B3! G#4 A4 G#4:1/2 F#4:1/2 E4:2~ E4 D#4 B3! C#5:1/2 B4:1/2 A4 A4 G#4 A4:1/2 G4:1/2 F#4:1/2 G#4:1/2 A4 G#4! A#4 B4:1/2 A4:1/2 G4 F#4:1/2 E4:1/2 E4 F#4:3! E4:1/2 D4:1/2 C#4 D4 E4 F#4:1/2 G#4:1/2 A4:2 E4! B4 A4:1/2 G#4:1/2 F#4 E4 F#4:1/2 G#4:1/2 A4:2 A4 G#4 E4:3!',
      T: 'C#4 C#4 C#4:1/2 B3:1/2 A3:1/2 G#3:1/2 F#3 B3:3/2 A3:1/2 G#3! E4 E4 D#4 C#4:2 B3:3/2 A3:1/2 G#3! G#3 A3:1/2 B3:1/2 C#4:1/2 D4:1/2 E4 E4 D4 E4 E4! E4 F#4:1/2 B3 A#3:1/2 B3 C#4 D4:3! G#3 A3 G#3:1/2 F#3:1/2 E3:1/2 E4:1/2 D4 C#4:1/2 D4:1/2 E4:1/2 F#4:1/2 G#4! F#4 F#4:1/2 E4:1/2 D4:1/2 C#4:1/2 B3 C#4:1/2 D4:1/2 E4:3/2 D4:1/2 C#4:1/2 F#4:1/2 B3:1/2 E4:1/4 D4:1/4 C#4:3!',
      B: 'A3:1/2 G#3:1/2 F#3 C#3 D3 D#3 E3 B2 E2! E3 A3 B3 C#4 B3:1/2 A3:1/2 B3 B2 E3! C#3 F#3:1/2 G#3:1/2 A3 E3 C#3:1/2 A2:1/2 D3 C#3:1/2 D3:1/2 E3! C#3 B2 C#3 D3:1/2 G3:1/2 F#3 B2:3! C#3 F#3 E3:1/2 D3:1/2 C#3 B2 A2:1/2 B2:1/2 C#3:1/2 D3:1/2 E3! B2 F#3:1/2 G#3:1/2 A3 G#3:1/2 E3:1/2 A3~ A3:1/2 G#3:1/2 F#3 E3:1/2 D3:1/2 E3 A2:3!',
    },
    roots:
      '0:A 1:F# 2:A 3:D 4:B 5:E 6:B 7:E 9:A 10:B 11:A 12:F# 13:E 14:B 15:E 16:C# 17:D 18:A 19:E 20:A 21:D 21.5:G# 22:A 23:E 24:A# 25:B 26:A# 27:B 27.5:E 28:F# 29:B 32:C# 33:F# 34:E 35:A 36:B 36.5:G# 37:A 39:E 40:B 41:F# 42:B 43:E 44:A 46:D 47:A 47.5:D 48:E 49:A',
  },
  {
    number: 3,
    bwv: '153.1',
    title: 'Ach Gott, vom Himmel sieh’ darein',
    key: 'A minor',
    meter: '4/4',
    voices: {
      S: 'B4 | C5 B4 A4 E5 | E5:1/2 D5:1/2 C5 B4! D5 | C5 B4 A4 B4:1/2 C5:1/4 D5:1/4 | C5 B4 A4! | A4 | B4:1/2 A4:1/2 G4 F#4 E4:1/2 F#4:1/2 | G4 A4 B4! G4 | A4:1/2 B4:1/2 C5 B4 C5:1/2 B4:1/2 | A4 G#4 A4! A4 | E5 C5 D5 E5 | D5 C5 B4!',
      A: 'G#4 A4 G#4 A4 G#4:1/2 A4:1/2 B4 E4:1/2 F#4:1/2 G#4! G#4 A4 G#4 A4:1/2 G4:1/2 F4 E4:2 E4! D4 D4:1/2 D#4:1/2 E4 D#4 E4:1/2 D#4:1/2 E4:1/2 G4:1/2 F#4:1/2 E4:1/2 D#4! E4:1/2 D4:1/2 C4:1/2 D4:1/2 E4 E4 A4 E4 E4 E4! E4 E4 E4 F4 G4 F#4:1/2 G#4:1/2 A4 E4!',
      T: 'E4 E4 D4 E4 D4:1/2 C4:1/2 B3 C4:1/2 D4:1/2 E4! F4 E4 E4:1/2 D4:1/2 C4 D4 G#3:1/2 A3 G#3:1/2 C4! A3 G3:1/2 A3:1/2 B3 B3 B3:1/2 A3:1/2 B3 C4 F#3! B3 A3 A4 G#4 E4:1/2 D4:1/2 C4 B3 C4! C4 B3 A3 A3 Bb3 A3:1/2 E3:1/2 F#3 G#3!',
      B: 'E3 A3 B3 C4 B3:1/2 A3:1/2 G#3 A3 E3! B2 C3:1/2 D3:1/2 E3 F3 E3:1/2 D3:1/2 E3:2 A2! F#3 G3:1/2 F#3:1/2 E3 B3:1/2 A3:1/2 G3:1/2 F#3:1/2 E3:1/2 D3:1/2 C3 B2! E3 F3 C3:1/2 D3:1/2 E3 A2:1/2 B2:1/2 C3:1/2 D3:1/2 E3 A2! A3 G#3 A3:1/2 G3:1/2 F3:1/2 E3:1/2 D3:1/2 C#3:1/2 D3 D#3 E3!',
    },
    roots:
      '0:E 1:A 2:G# 3:A 4:E 4.5:A 5:E 6:A 7:E 8:G# 9:A 10:E 11:F 12:B 13:A 14:E 15:A 16:D 17:G 17.5:D# 18:E 19:B 20:E 20.5:D# 21:E 22:A 23:B 24:E 25:F 26:A 27:E 28:A 30:E 31:A 33:E 34:A 35:D 36:C# 37:D 37.5:D# 39:E',
  },
  {
    number: 4,
    bwv: '86.6',
    title: 'Es ist das Heil uns kommen her',
    key: 'E',
    meter: '4/4',
    voices: {
      S: 'B4 | B4 B4 B4 D5 | C#5 B4 A4! B4 | G#4 E4:1/2 F#4:1/2 G#4 A#4 | B4 C#5 B4! | B4 | E5 D#5 C#5 D#5 | E5:1/2 D#5:1/2 C#5 B4! B4 | E5 B4 C#5 G#4:1/2 A4:1/2 | B4 A4 G#4! | G#4 | F#4 A4 G#4 F#4 | C#4 D#4 E4!',
      A: 'G#4 F#4:1/2 G#4:1/2 A4 G#4 F#4 E4:1/2 A4 G#4:1/2 E4! F#4 E4 E4:1/2 D#4:1/2 E4 C#4 F#4:1/2 E4:1/4 D#4:1/4 E4 D#4! E4:1/2 F#4:1/2 G#4:1/2 A#4:1/2 B4 A#4 B4 B4 F#4 F#4! G#4 E4:1/2 F#4:1/2 G#4 A4 E4:1/2 F#4:1/2 G#4 F#4 E#4! E4 D#4 C#4 B3 B3 C#4 B3 B3!',
      T: 'E4 F#4 E4:1/2 D#4:1/2 E4 A3:1/2 B3:1/2 C#4:1/4 D4:1/4 E4 D4:1/2 C#4! B3 B3:3/2 A3:1/2 G#3 F#3 F#3:1/2 B3 A#3:1/2 F#3! G#3 C#4 F#3 F#4 F#4 B3 A#3 D#4! E4 B3 E4 E4 C#4 D4 C#4 C#4! B3 B3 E4 E4 D#4:1/2 B3:1/2 F#3:2 G#3!',
      B: 'E3 D#3 B2 E3 F#3:1/2 G#3:1/2 A3 E3 A2! D#3 E3:1/2 F#3:1/2 G#3 C#3 F#3:1/2 E3:1/2 D#3:1/2 C#3:1/4 B2:1/4 F#3 B2! E3 C#3 D#3:1/2 E3:1/2 F#3 B3 G#3:1/2 E3:1/2 F#3 B2! E3 G#3 E3 A3:1/2 B3:1/2 C#4 E#3 F#3 C#3! E3 B2 C#3:1/2 D#3:1/2 E3 B2 A#2 B2 E2!',
    },
    roots:
      '0:E 1:B 3:E 4:D 4.5:G# 5:A 6:E 7:A 8:B 9:E 11:C# 12:F# 13:B 14:F# 15:B 16:E 17:C# 17.5:A# 18:B 19:F# 20:B 21:E 22:F# 23:B 24:E 27:A 28:C# 29:E# 30:F# 31:C# 32:E 33:B 34:A 35:E 36:B 37:F# 38:B 39:E',
  },
  {
    number: 5,
    bwv: '267',
    title: 'An Wasserfluessen Babylon',
    key: 'G',
    meter: '4/4',
    voices: {
      S: 'D5 | E5 D5:1/2 C5:1/2 B4:1/2 C5:1/2 D5 | C5:1/2 B4:1/2 C5 B4! A4 | B4 C5 D5 C5:1/2 B4:1/2 | A4:1/2 G4:1/2 A4 G4! | G4 | A4 B4 C5:1/2 B4:1/2 A4 | B4 A4 G4! G4:1/2 A4:1/2 | B4 C5 D5 E5 | B4 C#5 D5! | B4:1/2 C5:1/2 | D5 E5 D5:1/2 C5:1/2 B4 | C5:2 B4! E5 | E5 E5 A4 D5 | C5 B4 A4! C5 | B4 A4 G4 A4:1/2 G4:1/2 | F4 E4 D4! D4 | G4 A4 B4:3/2 C5:1/2 | D5 C5:1/2 B4:1/2 A4 B4:1/2 C5:1/2 | A4:2 G4!',
      A: 'G4 G4 F#4 G4 F#4 E4:1/2 G4 F#4:1/2 G4! A4 G4 G4 G4 G4 G4 F#4 D4! D4 D4:1/2 E4:1/2 F#4 E4~ E4:1/2 D4:1/2 D4 C4 B3! E4 D4 E4 F4 E4:1/2 F#4:1/2 G4:1/2 F#4:1/2 G4:1/2 A4:1/2 F#4! D4 G4 G4 A4 B4 B4:1/2 G#4:1/2 A4 G#4! B4 A4 E4:1/2 C4:1/2 D4:1/2 E4:1/2 F4 E4 D4 C4! A4 D4:1/2 E4:1/2 F4 E4:1/2 D4:1/2 E4~ E4:1/2 D4 C#4:1/2 D4! D4:1/2 C4:1/2 B3:1/2 A3:1/2 G3:1/2 F#3:1/2 G3 G4 F#4 G4 G4 G4~ G4 F#4 D4!',
      T: 'B3 C4:1/2 B3:1/2 A3 E4 A3:1/2 B3:1/2 C4:1/2 E4:1/2 D4 D4! D4 D4 G3:1/2 A3:1/2 B3:1/2 G3:1/2 E4 A3:1/2 B3:1/2 C4 B3! B3 A3 D4 G3 A3~ A3:1/2 G3 F#3:1/2 G3! G3 G3 G3 G3 G3 G3:1/2 A3:1/4 B3:1/4 A3 A3! G3 G3:1/2 D4:1/2 C4:1/2 B3:1/2 A3 E4 E4:2 E4! E4:1/2 D4:1/2 C4:1/2 B3:1/2 A3~ A3:1/2 G#3:1/2 A3:1/2 B3:1/2 G#3:1/2 A3 G#3:1/2 A3! E3:1/2 F#3:1/2 G3 D4:1/2 C4:1/2 Bb3 A3 A3 G3 F#3! F#3 G3 D4 D4 E4 D4:2 E4:1/2 D4:1/2 C4 D4:1/2 E4:1/2 D4:1/2 C4:1/2 B3!',
      B: 'G3 C3 D3 E3 F#3:1/2 G3:1/2 A3 D3 G3! F#3 G3:1/2 F#3:1/2 E3 B2 C3 D3:2 G2! G3 F#3 E3:1/2 D3:1/2 E3 F#3 G3 D3 G2! C3 G3:1/2 F3:1/2 E3:1/2 D3:1/2 C3:1/2 B2:1/2 C3:1/2 D3:1/2 E3 A2 D3! G3:1/2 A3:1/2 B3 C4 F#3 G#3 A3 A2 E3! G#2 A2:1/2 B2:1/2 C3:1/2 A2:1/2 F3 E3:1/2 D3:1/2 E3 E2 A2! A2 B2:1/2 C#3:1/2 D3:2 C#3 D3 A2 D3! B2 E3 D3 G3:1/2 F#3:1/2 E3 B2:1/2 A2:1/2 G2 C3:1/2 B2:1/2 A2 D3:1/2 C3:1/2 D3 G2!',
    },
    roots:
      '0:G 1:C 2:D 3:E 4:D 5:A 6:D 7:G 8:D 9:G 10:C 11:G 12:C 13:D 15:G 17:D 18:B 19:C 20:D 21:G 22:D 23:G 24:C 25:G 26:C 27:G 28:C 29:E 30:A 31:D 32:G 34:C 35:D 36:E 37:A 39:E 41:A 43:D 44:B 45:A 46:E 47:A 48.5:F# 49:G 49.5:C# 50:D 51:E 52:A 53:D 54:A 55:D 56:B 57:E 58:D 59:G 60:E 61:B 62:G 63:A 65:D 67:G',
  },
  {
    number: 6,
    bwv: '281',
    title: 'Christus, der ist mein Leben',
    key: 'F',
    meter: '4/4',
    voices: {
      S: 'F4 | A4 G4 A4 Bb4 | C5:2 A4! D5 | C5 Bb4 A4 G4 | A4:2! r C5 | D5 E5 F5 E5 | D5:2 C5! A4 | Bb4 A4 G4 G4 | F4:3!',
      A: 'C4 F4 G4 F4 F4 E4:1/2 F4:1/2 G4:1/2 E4:1/2 F4! F4 F4:3/2 E4:1/2 F4:3/2 E4:1/2 F4:2! r A4 A4:1/2 G4:1/2 G4:1/2 C5:1/4 Bb4:1/4 A4 A4 A4 G4 G4! F4 F4:1/2 E4:1/2 F4 F4 E4 C4:3!',
      T: 'A3 C4 C4 C4 D4 G3 C4 C4! Bb3 C4 D4:1/2 Bb3:1/2 C4 C4 C4:2! r F4 F4 E4 E4:1/2 D4:1/2 C4 C4 B3 E4! C4 Bb3 C4 D4 C4:3/4 Bb3:1/4 A3:3!',
      B: 'F2 F3 E3 Eb3 D3 C3:1/2 D3:1/2 E3:1/2 C3:1/2 F3! Bb2 A2 G2 F2:1/2 A2:1/2 C3 F2:2! r F3 B2 C3 D3:1/2 F3:1/2 A3:1/2 G3:1/2 F3:1/2 D3:1/2 G3 C3! F2 G2 A2 Bb2 C3 F2:3!',
    },
    roots:
      '0:F 2:C 3:F 4:Bb 5:C 7:F 8:Bb 9:F 10:G 10.5:E 11:F 12:C 13:F 17:G 18:C 19:D 20:A 21:D 22:G 23:C 24:F 25:E 26:F 27:G 28:C 29:F',
  },
  {
    number: 7,
    bwv: '17.7',
    title: 'Nun lob, mein Seel, den Herren',
    key: 'A',
    meter: '3/4',
    voices: {
      S: 'A4 | A4:2 G#4 | F#4:2 E4 | A4 B4:2 | C#5:2! C#5 | C#5 B4 C#5 | C#5:2 B4 | A4 B4:2 | A4:2! | A4 | A4 B4 C#5 | B4:2 C#5 | A4 G#4:2 | F#4:2! B4 | B4 A4 G#4 | A4 F#4:2 | E4:2! | E4 | A4:2 A4 | B4:2 B4 | C#5:3/2 B4:1/2 C#5 | A4:2! A4 | D5:2 D5 | C#5 B4 C#5 | B4:2! | B4 | C#5:2 C#5 | D5:2 D5 | E5:3 | A4:2! C#5 | B4 A4 G#4 | A4 F#4:2 | E4:2! | E4 | A4:2 G#4 | F#4:2 E4 | B4 C#5:2 | B4:2! C#5 | D5:2 C#5 | B4 A4:1/2 G#4:1/2 A4:1/2 B4:1/2 | C#5 B4:2 | A4:2!',
      A: 'E4 F#4:2 E4 D4 C#4 B3 E4 F#4 E4 E4:2! F#4:1/2 E4:1/2 G#4:2 E#4 F#4:2 G#4 A4:2 G#4 E4:2! E4 F#4 G#4 A4 B4 A4 G#4 F#4:2 E#4 C#4:2! F#4 E4:2 E4 E4:2 D#4 B3:2! C#4 C#4:2 F#4 E4 F#4 G#4 A4:2 G4 F#4:2! A4 B4:2 B4:1/2 A4:1/2 G4:1/2 A#4:1/2 B4 E4 D#4:2! E4 E4:2 F#4 F#4:2 G4 G4 F#4 E4 D4:2! E4 F#4:2 E4 E4:2 D#4 B3:2! C#4 C#4 D#4 E4 D#4:2 E4 F#4:3/2 G#4:1/2 A4 E4:2! G#4 A4 B4 A4 G#4 A4:2 A4 G#4:2 E4:2!',
      T: 'C#4 C#4:2 C#4 A3:2 G#3 A3:2 G#3 A3:2! C#4 C#4:2 B3 A3:2 E4 E4 F#4 E4 C#4:2! C#4 D4:2 E4 E#4 F#4 G#4 C#4 D4 C#4 A3:2! A3 G#3 A3 B3 C#4:2 B3:1/2 A3:1/2 G#3:2! G#3 A3:2 D4 B3:2 E4 E4:3 D4:2! E4 F#4:2 B3 E4 D4:1/2 C#4:1/2 B3:1/2 A#3:1/2 B3:2! G#3 A3:2 A3 B3:2 B3 B3 A3 G3 F#3:2! A3 F#3:2 B3 C#4 B3 A3 G#3:2! G#3 A3:2 B3 B3 A3 G#3 D4 A3:2 G#3:2! C#4 F#4 E4 E4 E4:1/2 D4:1/2 C#4 F#4 E4:2 D4 C#4:2!',
      B: 'A3 F#3:2 C#3 D3:2 D3 C#3 D3 E3 A2:2! A3 E#3:2 C#3 F#3 E3 D3 C#3 D3 E3 A2:2! A2 D3:2 A3 G#3 F#3 E#3 F#3 B2 C#3 F#2:2! D#3 E3:2 D3 C#3 A2 B2 E3:2! C#3 F#3 E3 F#3 G#3 F#3 E3 A3:2 A2 D3:2! C#3 B2 B3:1/2 A3:1/2 G3:1/2 F#3:1/2 E3:1/2 F#3:1/2 G3 F#3 B2:2! E3 A3 G#3 F#3 B3 A3 G3 C#3:3 D3:2! A3 D#3:2 E3 A2 B2:2 E3:2! C#3 F#3:2 E3 B2:2 C#3 D3:2 D#3 E3:2! E#3 F#3 G#3 A3 E3 F#3 D3 E3:2 E3 A2:2!',
    },
    roots:
      '0:A 1:F# 3:C# 4:D 6:E 7:A 8:B 9:E 10:A 13:C# 16:F# 18:E 19:A 20:B 21:E 22:A 25:D 27:A 28:E# 30:C# 31:F# 32:G# 33:C# 34:F# 36:B 37:E 40:A 41:F# 42:B 43:E 45:C# 46:F# 48:D 49:E 52:A 55:D 57:A 58:B 60:G 61:C# 61.5:F# 62:G 63:F# 64:B 66:E 67:A 69:F# 70:B 72:G 73:C# 76:D 78:A 79:B 81:E 82:A 83:B 85:E 87:C# 88:F# 89:D# 90:E 91:B 93:C# 94:B 95:D 96:D# 97:E 99:C# 100:D 101:E 102:A 103:E 104:F# 105:B 106:A 107:E 109:A',
  },
  {
    number: 8,
    bwv: '40.8',
    title: 'Freuet euch, ihr Christen alle',
    key: 'F minor',
    meter: '4/4',
    voices: {
      S: 'C5 C5 Bb4 Ab4 | G4:3/2 F4:1/2 F4 F4! | Ab4:3/2 Bb4:1/2 C5 C5 | Bb4:3/2 Ab4:1/2 Ab4:2! | Ab4 Bb4 Bb4 Ab4 | G4:3/2 F4:1/2 F4:2! | C5 C5 Db5 Db5 | Bb4 Bb4 C5 C5! | Ab4 Ab4 Db5 Db5 | C5 C5 Bb4:2! | G4 Ab4 Bb4 Ab4 | G4 G4 F4:2! | F5 F5 Eb5 Eb5 | D5 D5 C5 C5! | C5 C5 Db5 C5 | Bb4:3/2 Ab4:1/2 Ab4 Ab4! | Eb4 Ab4 Db5 Db5 | Bb4 Bb4 Eb5 Eb5 | C5 C5 F5 F5 | E5 E5 F5 F5!',
      A: 'F4 F4 F4:1/2 E4:1/2 F4 F4:1/2 G4:1/2 E4 F4 C4! F4:3/2 G4:1/2 Ab4 Ab4 Ab4:1/2 F4:1/2 G4 Eb4:2! F4 G4 E4 F4 F4 E4 C4:2! F4 F4 F4 F4 G4:1/2 Ab4:1/2 Bb4:1/2 G4:1/2 Ab4 Ab4! F4 F4 Bb4 Bb4 Bb4 A4 F4:2! E4 F4 F4:1/2 E4:1/2 F4 F4 E4 C4:2! Ab4 Ab4 G4 G4 G4:1/2 Ab4:1/2 G4:1/2 F4:1/2 E4 E4! F4 F4 F4:1/2 G4:1/2 Ab4 Ab4:1/2 F4:1/2 G4 Eb4 Eb4! F4 F4 Bb4 Bb4 G4 G4 C5 C5 Ab4:1/2 G4:1/2 Ab4:1/2 Bb4:1/2 C5 Bb4:1/2 Ab4:1/2 G4 G4 A4 A4!',
      T: 'Ab3 A3 Bb3 C4 Db4 C4:1/2 Bb3:1/2 Ab3 Ab3! C4:3/2 Bb3:1/2 Eb4 Eb4 F4 Eb4:1/2 Db4:1/2 C4:2! Db4 Db4 G3 F3:1/2 Ab3:1/2 Db4 C4:1/2 Bb3:1/2 Ab3:2! A3:1/2 Bb3:1/2 C4:1/2 A3:1/2 Bb3 Bb3 Bb3 Eb4 Eb4 Eb4! Db4 Db4 F4 F4 Gb4 F4:1/2 Eb4:1/2 Db4:2! C4 C4 Bb3 C4 Db4 C4:1/2 Bb3:1/2 Ab3:2! C4 C4 C4 C4 C4 B3 C4 G3! A3 A3 Bb3 Eb3 Eb4:3/2 Db4:1/2 C4 C4! Db4 Db4 F4 F4 Eb4 Eb4 G4 G4 F4 F4 C4 F3 C4 C4 C4 C4!',
      B: 'F3 Eb3 Db3 C3 Bb2 C3 F2 F2! F3 Eb3:1/2 Db3:1/2 C3:1/2 Bb2:1/2 Ab2 Db3 Eb3 Ab2:2! Db3 C3:1/2 Bb2:1/2 C3 Db3 Bb2 C3 F2:2! F3:1/2 G3:1/2 A3:1/2 F3:1/2 Bb2:1/2 C3:1/2 Db3:1/2 Bb2:1/2 Eb3:1/2 F3:1/2 G3:1/2 Eb3:1/2 Ab3 Ab3! Db3:1/2 Eb3:1/2 F3:1/2 Db3:1/2 Bb2:1/2 C3:1/2 Db3:1/2 Bb2:1/2 Eb3:1/2 C3:1/2 F3 Bb2:2! Bb3 Ab3 G3 F3 Bb2 C3 F2:2! F2:1/2 G2:1/2 Ab2:1/2 Bb2:1/2 C3:1/2 D3:1/2 Eb3:1/2 F3:1/2 G3 G2 C3 C3! F3:1/2 Eb3:1/2 Db3:1/2 C3:1/2 Bb2 C3:1/2 Db3:1/2 Eb3 Eb3 Ab2 Ab2! Db3:1/2 Eb3:1/2 Db3:1/2 C3:1/2 Bb2:1/2 C3:1/2 Db3:1/2 Bb2:1/2 Eb3:1/2 F3:1/2 Eb3:1/2 Db3:1/2 C3:1/2 Db3:1/2 Eb3:1/2 C3:1/2 F3:1/2 E3:1/2 F3:1/2 G3:1/2 Ab3:1/2 G3:1/2 Ab3:1/2 Bb3:1/2 C4 C3 F3 F3!',
    },
    roots:
      '0:F 2:Bb 3:F 4:G 5:C 6:F 9.5:G 10:Ab 12:Bb 13:Eb 14:Ab 16:Db 17:G 18:C 19:Db 20:G 21:C 22:F 26:Bb 28:Eb 30:Ab 32:Db 34:Bb 36:C 37:F 38:Bb 40:C 41:F 42:G 42.5:E 43:F 44:G 45:C 46:F 50:C 52:G 54:C 56:F 58:Bb 58.5:G 59:Ab 60:Eb 62:Ab 64:Db 66:Bb 68:Eb 70:C 72:F 76:C 78:F',
  },
  {
    number: 9,
    bwv: '248',
    title: 'Ermuntre dich, mein schwacher Geist',
    key: 'G',
    meter: '4/4',
    voices: {
      S: 'G4 | G4 A4 B4:1/2 C#5:1/2 D5 | D5 C#5 D5! B4 | C5 B4 A4 B4 | A4:2 G4! | A4 | A4 B4 C5 C5 | B4:1/2 A4:1/2 B4 A4! B4 | B4 B4 C5:1/2 D5:1/2 E5 | E5 D#5 E5! | F#5 | G5 B4 C5 B4 | A4:2 A4! D5 | E5 D5 C5 B4:1/2 C5:1/2 | A4:2 G4!',
      A: 'D4 E4 F#4 D4:1/2 E4:1/2 F#4 E4:1/2 F#4:1/2 G4 F#4! F#4 E4 D4:1/2 E4:1/2 F#4 G4~ G4 F#4 D4! F#4:1/2 G4:1/2 A4:3/2 G#4:1/2 A4:1/2 G#4:1/2 A4 A4 G#4 E4! E4:1/2 D#4:1/2 E4 E4 E4:1/2 F#4:1/2 G4:1/2 F#4:1/2 F#4:1/2 G4:1/2 A4 G4! A4 G4:1/2 A4:1/2 B4:3/2 A4 G4:1/2 G4:2 F#4! G4:1/2 F#4:1/2 E4 F#4 G4:1/2 A4:1/2 D4 E4 D4 D4!',
      T: 'B3 B3:1/2 C4 D4:1/2 B3:1/2 A3:1/2 A3 A3 A3 A3! B3:1/2 A3:1/2 G3:1/2 A3:1/2 B3:1/2 C4:1/2 D4 D4 D4:3/2 C4:1/2 B3! D4:1/2 E4:1/2 F#4:1/2 E4:1/2 D4 E4 F#4 B3 E4:1/2 D4:1/2 C4! G3:1/2 A3:1/2 B3:1/2 C4:1/2 D4:1/2 E4:1/2 C4 C#4 B3 B3 B3! D4 D4 G4 G3:1/2 A3:1/2 B3 E4:1/2 D4:1/2 E4:1/2 C#4:1/2 D4! D4~ D4:1/2 C4:1/2 C4:1/2 B3:1/2 B3:1/2 A3:1/2 G3 G3:1/2 F#3:1/4 E3:1/4 F#3 B3!',
      B: 'G3:1/2 F#3:1/2 E3 D3 G3 F#3:1/2 G3:1/2 A3 A2 D3! D#3 E3:1/2 F#3:1/2 G3:1/2 C3:1/2~ C3:1/2 B2:1/2 A2:1/2 G2:1/2 D3 D2 G2! D3 D4:1/2 C4:1/2 B3 A3 D#3 E3 E2 A2! E3:1/2 F#3:1/2 G3 G#3 A3 A#3 B3 B2 E3! D3:1/2 C3:1/2 B2:1/2 A2:1/2 G2:1/2 F#2:1/2 E2:1/2 F#2:1/2 G2:1/2 E2:1/2 C#3:1/2 B2:1/2 C#3:1/2 A2:1/2 D3! B2 C3 D3 E3:1/2 F#3:1/2 G3 C3 D3 G2!',
    },
    roots:
      '0:G 1:E 2:D 3:G 3.5:A 4:D 5:A 7:D 8:B 9:C 9.5:F# 10:G 10.5:C 11:D 12:G 13:D 15:G 16:D 18:G# 19:A 20:D# 21:E 23:A 24:E 24.5:B 25:E 27:A 28:F# 29:B 31:E 32:D 33:G 35:C 35.5:F# 36:G 36.5:E 37:A 39:D 40:G 41:C 42:D 43:C 43.5:F# 44:G 45:A 46:D 47:G',
  },
  {
    number: 10,
    bwv: '38.6',
    title: 'Aus tiefer Not schrei ich zu dir 1',
    key: 'A minor',
    meter: '4/4',
    voices: {
      S: 'B4:2 E4 B4 | C5 B4:1/2 A4:1/2 G4 A4 | B4:2! B4:2 | C5 D5 C5:1/2 B4:1/2 A4 | G4 F4 E4:2! | A4:2 G4 C5 | B4 A4 D5:1/2 C5:1/2 B4 | A4:2! C5:2 | B4 C5 D5 G4 | B4 A4 G4:2! | G4:2 C5 B4 | A4 E4 G4 F4 | E4:4!',
      A: 'E4:2 E4 G#4 A4 G4:1/2 F#4:1/2 E4 F#4 G#4:2! G#4:2 A4 B4 C5 F4 E4 D4:1/2 C4:1/2 B3:2! E4:2 D4 E4:1/2 F#4:1/2 G4 A4 B4:1/2 A4:1/2 G#4 E4:2! A4:2 G4 G4 G4:1/2 F4:1/2 E4 D4 C4 B3:2! E4:2 E4 E4:1/2 D4:1/2 C4 C4 D4:2~ D4 C4 B3:2!',
      T: 'G#3:2 A3 D4 E4 D4 E4:1/2 D4:1/2 C4 B3:2! E4:2 E4 F4 G4 C4 C4:1/2 B3:1/2 A3 G#3:2! A3:2 B3 C4 D4 D4:1/2 E4:1/2 F4 B3 C4:2! E4:2 E4 E4 D4 C4 F#3:1/2 G3 F#3:1/2 G3:2! G3:2 A3 G#3 A3 G3 G3 A3 B3 A3 G#3:2!',
      B: 'D3:2 C3 B2 A2 B2 C3:1/2 B2:1/2 A2 E3:2! E3:2 A3 G3:1/2 F3:1/2 E3 F3 C3 D3 E3:2! C3:2 B2 A2 G2:1/2 G3:1/2 F3:1/2 E3:1/2 D3 E3 A2:2! A3:2 E3 D3:1/2 C3:1/2 B2 C3 D3 D2 G2:2! C3:2 A2 E3 F3 C3 Bb2 A2 G#2 A2 E2:2!',
    },
    roots:
      '0:E 2:A 3:G# 4:A 5:G 6:C 7:F# 8:E 12:A 13:G 14:C 15:F 16:C 17:D 18:E 20:A 22:G 23:A 23.5:F# 24:G 25:D 26:B 27:E 28:A 32:E 33:C 34:G 35:C 36:G 37:D 38:G 40:C 42:A 43:E 44:F 45:C 46:G 47:D 48:E 49:A 50:E',
  },
];
