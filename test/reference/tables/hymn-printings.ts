/**
 * Tunes that other books print in another key: the range is read from that engraving, the mean is the one of the
 * Open Hymnal's printing moved by the distance between the two. English-Hymns: Musicam Ecclesiae; Mutopia: the hymns of S. Dunlop (notated
 * key). Modes are written as the major key of the same signature, as the Open Hymnal does.
 */
export interface Printing {
  readonly tune: string;
  readonly file: string;
  readonly to: string;
  readonly low: string;
  readonly high: string;
  readonly mean: number;
  readonly printing: string;
}

export const PRINTINGS: readonly Printing[] = [
  {
    tune: 'Azmon',
    file: 'O_For_A_Thousand_Tongues-Azmon.abc',
    to: 'G',
    low: 'D4',
    high: 'D5',
    mean: 68.29,
    printing: 'Mutopia',
  },
  {
    tune: 'Coronation',
    file: 'All_Hail_The_Power_Of_Jesus_Name-Coronation.abc',
    to: 'F',
    low: 'C4',
    high: 'D5',
    mean: 68.44,
    printing: 'English-Hymns',
  },
  {
    tune: 'Llanfair',
    file: 'Christ_The_Lord_Is_Risen_Today-Llanfair.abc',
    to: 'G',
    low: 'G4',
    high: 'E5',
    mean: 70.6,
    printing: 'English-Hymns',
  },
  {
    tune: 'Aurelia',
    file: 'The_Churchs_One_Foundation-Aurelia.abc',
    to: 'Eb',
    low: 'D4',
    high: 'Eb5',
    mean: 67.95,
    printing: 'English-Hymns',
  },
  {
    tune: 'Lauda anima',
    file: 'Praise_My_Soul_The_King_Of_Heaven-Praise_My_Soul-Lauda_Anima.abc',
    to: 'D',
    low: 'C#4',
    high: 'D5',
    mean: 68.58,
    printing: 'English-Hymns',
  },
  {
    tune: 'Nicaea',
    file: 'Holy_Holy_Holy-Nicaea.abc',
    to: 'E',
    low: 'E4',
    high: 'E5',
    mean: 70.12,
    printing: 'English-Hymns',
  },
  {
    tune: 'Foundation',
    file: 'How_Firm_A_Foundation-Foundation-Protection.abc',
    to: 'G',
    low: 'D4',
    high: 'D5',
    mean: 67.09,
    printing: 'English-Hymns',
  },
];
