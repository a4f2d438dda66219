import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, KeyFinding, Keys, type KeyAt } from '#music';
import { hymn } from '#test/support/hymn.ts';

/**
 * Keys of the tunes as other editions print them, with the semitones from our file to theirs (by the lowest note of the
 * tune). EH: the LilyPond engravings of Musicam Ecclesiae, English-Hymns; MU: Mutopia, hymns by S. Dunlop.
 */
const EDITIONS = `
Amazing_Grace-New_Britain                                     | 0  | G major  | MU
Awake_My_Soul_And_With_The_Sun-Old_100th                      | 0  | G major  | EH
Our_God_Our_Help_In_Ages_Past-St_Anne                         | 0  | C major  | EH
Holy_Holy_Holy-Nicaea                                         | 0  | D major  | MU
Alleluia_Sing_To_Jesus-Hyfrydol                               | 0  | F major  | EH
Be_Thou_My_Vision-Slane                                       | 0  | Eb major | EH
O_For_A_Thousand_Tongues-Azmon                                | -1 | G major  | MU
All_Hail_The_Power_Of_Jesus_Name-Coronation                   | -2 | F major  | EH
Abide_With_Me-Eventide                                        | 0  | Eb major | EH
Silent_Night-Stille_Nacht                                     | 0  | Bb major | MU
The_Churchs_One_Foundation-Aurelia                            | 1  | Eb major | EH
Hosanna_Loud_Hosanna-Ellacombe                                | 0  | Bb major | EH
I_Know_That_My_Redeemer_Lives-Duke_Street                     | 0  | D major  | EH
Now_Thank_We_All_Our_God-Nun_Danket                           | 0  | F major  | EH
O_Come_O_Come_Emmanuel-Veni_Emmanuel                          | 0  | E minor  | EH
O_Little_Town_Of_Bethlehem-St_Louis                           | 0  | F major  | MU
Praise_My_Soul_The_King_Of_Heaven-Praise_My_Soul-Lauda_Anima  | -1 | D major  | EH
Immortal_Invisible_God_Only_Wise-St_Denio                     | 0  | G major  | EH
Christ_The_Lord_Is_Risen_Today-Llanfair                       | 2  | G major  | EH
How_Firm_A_Foundation-Foundation-Protection                   | -1 | G major  | EH
All_Praise_To_Thee_My_God_This_Night-Tallis_Canon             | 0  | G major  | EH
Blessed_Assurance-Blessed_Assurance-Assurance                 | 0  | D major  | MU
`
  .trim()
  .split('\n')
  .map((line) => line.split('|').map((cell) => cell.trim()));

function firstKey(file: string): KeyAt {
  const [key] = hymn(`${file}.abc`).keys;
  if (!key) throw new Error('no key');
  return key;
}

/** Semitones above C. */
function place(tonic: string): number {
  const natural = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }[tonic.charAt(0)] ?? 0;
  return natural + (tonic.endsWith('#') ? 1 : tonic.endsWith('b') ? -1 : 0);
}

describe('The key of a hymn is that of independent editions', () => {
  it.each(EDITIONS)('%s, moved by %s semitones: %s (%s)', (file = '', moved, name = '') => {
    const theirs = Keys.readKey(name);
    const { key, sure } = firstKey(file);
    expect(key.mode).toBe(theirs?.mode);
    expect((place(key.tonic) + Number(moved) + 12) % 12).toBe(place(theirs?.tonic ?? '') % 12);
    expect(sure).toBe(true);
  });

  // EH prints Picardy with F major's signature and names no minor key; that it is D minor: common practice.
  it('Picardy, one flat and a last D: D minor', () => {
    expect(firstKey('Let_All_Mortal_Flesh_Keep_Silence-Picardy')).toMatchObject({
      key: { tonic: 'D', mode: 'minor' },
      signature: -1,
      sure: true,
    });
  });

  it('Greensleeves, two sharps and a last E: E dorian, or the E minor of EH; a person is asked', () => {
    const found = firstKey('What_Child_Is_This-Greensleeves');
    expect(found).toMatchObject({
      key: { tonic: 'E', mode: 'dorian' },
      signature: 2,
      sure: false,
      others: [{ tonic: 'E', mode: 'minor' }],
    });
    expect(found.reason).toContain('the last bass note is E and the last chord E G B');
    expect(found.reason).toContain('leading note is raised');
  });

  it('all 24 hymns are looked at', () => {
    const files = readdirSync(new URL('../../seed-data/hymns/', import.meta.url));
    expect(EDITIONS.length + 2).toBe(files.filter((file) => file.endsWith('.abc')).length);
  });
});

describe('An answer settles a doubt', () => {
  it('keeps what it might have been, and touches no note', () => {
    const score = hymn('What_Child_Is_This-Greensleeves.abc');
    const answered = KeyFinding.answer(score, { tonic: 'E', mode: 'minor' });
    expect(answered.keys).toEqual([
      {
        at: 0,
        signature: 2,
        key: { tonic: 'E', mode: 'minor' },
        sure: true,
        reason: 'E minor: decided by a person.',
        others: [{ tonic: 'E', mode: 'dorian' }],
      },
    ]);
    expect(answered.voices).toBe(score.voices);
  });
});

const tunes: readonly (readonly [what: string, abc: string, key: string, sure: boolean])[] = [
  ['a mode that is named is certain', 'K:E dor\nE2 B2 | E4 |]', 'E dorian', true],
  ['a minor that is named is certain', 'K:Am\nE2 B2 | C4 |]', 'A minor', true],
  ['one voice on the tonic of its signature', 'K:G\nD2 B2 | G4 |]', 'G major', true],
  ['one voice on the sixth degree may be minor', 'K:G\nB2 B2 | E4 |]', 'E minor', false],
  ['a raised leading note makes minor sure', 'K:G\nB2 ^D2 | E4 |]', 'E minor', true],
  ['on the fifth: a half close, or mixolydian', 'K:G\nD2 B2 | D4 |]', 'G major', false],
  [
    'where fine stands, not where it is written to end',
    'K:G\nB2 A2 | !fine!G4 | d2 c2 | A4 |]',
    'G major',
    true,
  ],
  [
    'at fine, with another chord at the end',
    'K:D\nF4 | [D,FA]4!fine! | [A,CE]4 |]',
    'D major',
    true,
  ],
  ['root and third of the dominant: a half close', 'K:D\n[D,F]4 | [A,c]4 |]', 'D major', false],
  ['the dominant whole: a half close', 'K:D\n[D,F]4 | [A,CE]4 |]', 'D major', false],
  ['its third in the bass: a half close', 'K:C\n[C,E]4 | [B,G]4 |]', 'C major', false],
  ['a sixth is the tonic over its third', 'K:C\nG4 | [E,C]4 |]', 'C major', false],
  ['a third is the tonic without its root', 'K:C\nG4 | [E,G,]4 |]', 'C major', false],
  ['one voice on the third of the tonic', 'K:C\nG2 F2 | E4 |]', 'C major', false],
  ['the dominant of the relative minor', 'K:C\n[A,CE]4 | [E,^GB]4 |]', 'A minor', false],
  [
    'its root, where the leading note was raised before',
    'K:C\nA2 ^G2 | A2 E2 |]',
    'A minor',
    false,
  ],
  ['a minor third and fifth on the third degree', 'K:C\nG4 | [E,GB]4 |]', 'E phrygian', false],
  ['on the second: dorian, or minor', 'K:C\nF4 | [D,FA]4 |]', 'D dorian', false],
  ['on the fourth: lydian, or major', 'K:C\nB4 | [F,Ac]4 |]', 'F lydian', false],
  [
    'a major third on the sixth degree is still minor',
    'K:C\n[A,E]4 | [A,^CE]4 |]',
    'A minor',
    true,
  ],
  ['the root counts, not the bass', 'K:C\nG4 | [E,CG]4 |]', 'C major', true],
  ['a last note outside the scale', 'K:C\nG4 | ^C4 |]', 'C major', false],
];

describe('The key from signature, last bass note and last chord', () => {
  it.each(tunes)('%s', (_, body, key, sure) => {
    const read = Abc.read(`X:1\nM:4/4\nL:1/4\n${body}\n`);
    const found = read.ok ? read.value[0]?.keys[0] : undefined;
    expect(found && Keys.writeKey(found.key)).toBe(key);
    expect(found?.sure).toBe(sure);
    expect(found?.reason).not.toBe('');
  });

  it('of a half close says what else it may be', () => {
    const read = Abc.read('X:1\nM:4/4\nL:1/4\nK:D\n[D,F]4 | [A,CE]4 |]\n');
    expect(read.ok && read.value[0]?.keys[0]).toMatchObject({
      reason:
        'Two sharps; the last bass note is A and the last chord A C♯ E: the dominant of D major, unless the song is in A mixolydian or A major.',
      others: [
        { tonic: 'A', mode: 'mixolydian' },
        { tonic: 'A', mode: 'major' },
      ],
    });
  });

  it('each part of a song has its own key', () => {
    const read = Abc.read('X:1\nM:4/4\nL:1/4\nK:C\nE2 C2 | [K:Eb] G2 E2 |]\n');
    const keys = read.ok ? read.value[0]?.keys : [];
    expect(keys?.map(({ at, key }) => [at / 20160, Keys.writeKey(key)])).toEqual([
      [0, 'C major'],
      [4, 'Eb major'],
    ]);
  });

  it('the file of a hymn gives a signature only: K: G of Veni Emmanuel', () => {
    const file = 'O_Come_O_Come_Emmanuel-Veni_Emmanuel';
    const url = new URL(`../../seed-data/hymns/${file}.abc`, import.meta.url);
    expect(readFileSync(url, 'latin1')).toMatch(/^K: G /m);
    expect(firstKey(file)).toMatchObject({ key: { tonic: 'E', mode: 'minor' }, signature: 1 });
  });
});
