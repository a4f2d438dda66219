import { describe, expect, it } from 'vitest';
import { HymnMeter } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { PUBLISHED_METERS } from './tables/hymn-meters.ts';

/** Where the count is another than the printed one: what is found, and why. */
const DIFFERENCES: Readonly<Record<string, { readonly found: string; readonly why: string }>> = {
  'Holy_Holy_Holy-Nicaea.abc': {
    found: '6.5.7.6.6.6.10',
    why:
      'The editor halves the four lines, and counts halves that no verse sings (from memory: hymnals print ' +
      '11.12.12.10). The count halves them too, where verses have a stop; “Lord God Almighty!” has five syllables, ' +
      '“Casting down their golden crowns” seven, and “Who was, and is, and evermore shall be” cannot be halved.',
  },
  'O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc': {
    found: '8.8.8.8.4.8.4',
    why:
      'The verse agrees. In the refrain “Rejoice! Rejoice!” has a stop, a long note and a capital after it, and ' +
      '“O Israel” too; the editor counts two lines of eight.',
  },
};

const figures = (text: string): string => text.toLowerCase().replace(/(\d) (?=\d)/g, '$1.');

describe('The hymn meter, from the syllables of all verses', () => {
  const found = HYMN_FILES.map((file) => {
    const score = hymn(file);
    const meter = HymnMeter.of(score);
    const suffix = / with alleluias?/.exec(meter.meter ?? '')?.[0] ?? '';
    return { file, score, meter, counted: [...meter.lines, ...meter.refrain].join('.') + suffix };
  });

  it.each(found)(
    '$file: is the printed one, or differs for a reason',
    ({ file, score, counted }) => {
      const printed = PUBLISHED_METERS[file];
      expect(figures(score.facts.hymnMeter ?? '')).toBe(printed);
      expect(counted).toBe(DIFFERENCES[file]?.found ?? printed);
      if (DIFFERENCES[file]) expect(counted).not.toBe(printed);
    },
  );

  it('agrees in 22 of 24 hymns, and says so', () => {
    const same = found.filter(({ file, counted }) => counted === PUBLISHED_METERS[file]);
    process.stdout.write(`hymn meters as printed: ${same.length} of ${found.length} hymns\n`);
    expect(same).toHaveLength(HYMN_FILES.length - Object.keys(DIFFERENCES).length);
  });

  // Names as hymnals print them: the article “Metre (hymn)” of the English Wikipedia.
  it.each([
    ['Amazing_Grace-New_Britain.abc', '8.6.8.6', 'CM'],
    ['Awake_My_Soul_And_With_The_Sun-Old_100th.abc', '8.8.8.8', 'LM'],
    ['Alleluia_Sing_To_Jesus-Hyfrydol.abc', '8.7.8.7.8.7.8.7', '8.7.8.7 D'],
    ['The_Churchs_One_Foundation-Aurelia.abc', '7.6.7.6.7.6.7.6', '7.6.7.6 D'],
    ['Christ_The_Lord_Is_Risen_Today-Llanfair.abc', '7.7.7.7 with alleluias', null],
    ['O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc', '8.8.8.8 with refrain', 'LM with refrain'],
    ['Blessed_Assurance-Blessed_Assurance-Assurance.abc', '9.10.9.9 with refrain', null],
    ['Be_Thou_My_Vision-Slane.abc', '10.10.10.10', null],
  ])('%s: %s', (file, meter, name) => {
    expect(HymnMeter.of(hymn(file))).toMatchObject({ meter, name });
  });

  it('names verse and line where a verse has another number', () => {
    expect(HymnMeter.of(hymn('Be_Thou_My_Vision-Slane.abc')).reason).toBe(
      'Lines of 10, 10, 10 and 10 syllables in verses 1, 2, 3, 4 and 5; verse 1 has 9 in line 3.',
    );
  });
});
