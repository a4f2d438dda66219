import { describe, expect, it } from 'vitest';
import { lines, read, write, LIMITS, type TextMark } from './words-and-chords.ts';
import { say } from '../pitch/chord-symbol.ts';
import { sayKey } from '../pitch/key.ts';
import type { Score } from '../score/score.ts';

function song(text: string, marks: readonly TextMark[] = []): Score {
  const result = read(text, { marks });
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

/** Words of a song with its chords where they fall: `A[G]ma[C]zing`; `|` between bars. */
function sung(score: Score): string {
  return score.bars
    .map((bar) =>
      (score.voices[0]?.notes ?? [])
        .filter(({ at }) => at >= bar.at && at < bar.at + bar.length)
        .map(({ at, syllables }) => {
          const chord = score.chords.find((each) => each.at === at);
          const over = chord ? `[${chord.chord ? say(chord.chord) : 'N.C.'}]` : '';
          const syllable = syllables?.[0];
          return `${over}${syllable?.text ?? ''}${syllable?.hyphen ? '' : ' '}`;
        })
        .join('')
        .trim(),
    )
    .join(' | ');
}

/** Each line between others that leave no doubt. Common practice of lead sheets; the traps are ours. */
const DECISIONS: readonly (readonly [line: string, as: string, below?: string])[] = [
  ['G', 'chords', 'Amazing grace'],
  ['G       C      G', 'chords', 'Amazing grace'],
  ['A', 'chords', 'light on the hill'],
  ['Am', 'chords', 'light on the hill'],
  ['A   Am', 'chords', 'light on the hill'],
  ['A', 'chords', ''],
  ['A man came by', 'words', ''],
  ['A D', 'chords', 'light'],
  ['Am I alone', 'words', ''],
  ['Am I', 'words', ''],
  ['Be', 'words', 'still'],
  ['Go', 'words', 'tell it'],
  ['Do', 'words', 'not fear'],
  ['Do   G', 'chords', 'not fear'],
  ['Go   Do', 'chords', 'not fear'],
  ['Add', 'words', 'light'],
  ['Dad', 'words', 'light'],
  ['Ah', 'words', 'light'],
  ['a', 'words', 'light'],
  ['a d e', 'words', 'light'],
  ['D E A D', 'chords', 'light'],
  ['G C and D', 'chords', 'light'],
  ['G  C  for ever', 'chords', 'light'],
  ['G for C you', 'words', 'light'],
  ['Come to G', 'words', 'light'],
  ['N.C.', 'chords', 'silence'],
  ['NC', 'chords', 'silence'],
  ['G  N.C.  D', 'chords', 'silence'],
  ['| G | C | D | G |', 'chords', ''],
  ['|: G | C :|', 'chords', 'light'],
  ['|G  |C  |', 'chords', ''],
  ['G / / / C / / /', 'chords', ''],
  ['G - C - D', 'chords', ''],
  ['G  C  x2', 'chords', ''],
  ['(G)  C', 'chords', 'light'],
  ['F#m7b5  B7(b9)  Em/D  C♯dim', 'chords', 'light'],
  ['Hm  A', 'chords', 'light'],
  ['H7', 'chords', 'light'],
  ['E', 'chords', 'light'],
  ['Bb', 'chords', 'light'],
  ['Eb you Ab me', 'words', ''],
  ['----------', 'nothing', ''],
  ['Verse 1', 'heading', 'Amazing'],
  ['Verse 1:', 'heading', 'Amazing'],
  ['REFRAIN', 'heading', 'Amazing'],
  ['Refrain (2x)', 'heading', 'Amazing'],
  ['Chorus x2', 'heading', ''],
  ['Strophe 2', 'heading', 'Amazing'],
  ['Bridge', 'heading', 'Amazing'],
  ['Intro', 'heading', 'Amazing'],
  ['(Chorus)', 'heading', 'Amazing'],
  ['Last refrain', 'heading', 'Amazing'],
  ['Ending', 'heading', 'Amazing'],
  ['Tag', 'heading', 'Amazing'],
  ['Chorus of angels', 'words', ''],
  ['Bridge over water', 'words', ''],
  ['Ending never', 'words', ''],
  ['Key: A', 'heading', ''],
  ['Amen', 'words', ''],
];

describe('What a line is taken for', () => {
  it.each(DECISIONS)('%j is %s (over %j)', (line, as, below = '') => {
    const text = `Title\n\nVerse 9\nG     C\nWords before\n\n${line}\n${below}\n\nG\nWords after`;
    const found = lines(text)[6];
    expect(found?.as).toBe(as);
    expect(found?.reason).toMatch(/^\S.*[.]$/);
  });

  it('says of each word why, and marks what is in doubt', () => {
    const [, , , , line] = lines('T\n\nVerse\nG  C\nWe sing G7 here');
    expect(line?.words.map(({ text, as, doubtful }) => [text, as, doubtful])).toEqual([
      ['We', 'words', false],
      ['sing', 'words', false],
      ['G7', 'words', true],
      ['here', 'words', false],
    ]);
    const doubtful = lines('T\n\nG  C and D\nwords').at(2);
    expect(doubtful).toMatchObject({ as: 'chords', doubtful: true });
    expect(doubtful?.reason).toContain('“and”');
    expect(doubtful?.words.find(({ text }) => text === 'and')?.as).toBe('nothing');
  });

  it('knows the lines over a song', () => {
    const text =
      'The Lamp\nAda Example\n\nKey: Em\nTime: 3/4\nTempo: 76\nWords: Ada, 2026\n\nVerse 1\nEm\nwords';
    const found = lines(text);
    expect(found.map(({ names }) => names)).toEqual(
      ['title', 'credit', null, 'fact', 'fact', 'fact', 'credit', null, 'section', null, null],
    ); // prettier-ignore
    const score = song(text);
    expect(score.facts).toMatchObject({
      title: 'The Lamp',
      credits: ['Ada Example', 'Words: Ada, 2026'],
      other: [['time', '3/4']],
    });
    expect(score.keys[0]).toMatchObject({ key: { tonic: 'E', mode: 'minor' }, sure: true });
    expect(score.tempo?.perMinute).toBe(76);
  });

  it('takes a first stanza for words and not for a title', () => {
    const text =
      'Amazing grace how sweet the sound\nThat saved a wretch like me\nI once was lost\nBut now am found';
    expect(lines(text).map(({ as }) => as)).toEqual(['words', 'words', 'words', 'words']);
    expect(song(text).facts.title).toBe('Amazing grace how sweet the sound');
  });

  it('takes brackets and braces for words, and says so', () => {
    const result = read('T\n\nVerse\nA[G]mazing {soft} grace');
    expect(result.ok && sung(result.value)).toBe('A[G]mazing {soft} grace');
    expect(result.ok && result.warnings.find(({ code }) => code === 'brackets-are-words')).toMatchObject({ line: 4, column: 2 }); // prettier-ignore
  });
});

describe('A mark of a person', () => {
  it.each([
    ['chords', '[Gdim]home at last'],
    ['words', 'Go | home at last'],
    ['nothing', 'home at last'],
  ] as const)('makes a line %s', (as, expected) => {
    expect(sung(song('T\n\nVerse\nGo\nhome at last', [{ line: 4, as }]))).toBe(expected);
  });

  it('makes any line a heading', () => {
    const { sections } = song('T\n\nThe crossing\nwords', [{ line: 3, as: 'heading' }]);
    expect(sections.map(({ name }) => name)).toEqual(['The crossing']);
  });

  it('makes one word a chord, a sung word, or leaves it out', () => {
    const text = 'T\n\nVerse\nG   A   D\nhome at last';
    expect(sung(song(text, [{ line: 5, column: 6, as: 'nothing' }]))).toBe('[G]home [A] [D]last');
    expect(sung(song(text, [{ line: 4, column: 5, as: 'nothing' }]))).toBe('[G]home at [D]last');
    expect(sung(song('T\n\nVerse\nEm home at last', [{ line: 4, column: 1, as: 'chords' }]))).toBe('[Em]home at last'); // prettier-ignore
  });

  it('cannot make a chord of what is none, and says so with its place', () => {
    const result = read('T\n\nVerse\nhome at last', {
      marks: [{ line: 4, column: 6, as: 'chords' }],
    });
    expect(result.ok && result.warnings.map(({ line, column }) => [line, column])).toContainEqual([4, 6]); // prettier-ignore
  });
});

describe('Where a chord falls', () => {
  it.each([
    ['over a first letter', 'G\nAmazing', '[G]Amazing'],
    ['inside a word', '   G\nAmazing', 'Ama[G]zing'],
    ['over the consonants that begin a word', ' G\ngrace', '[G]grace'],
    ['over the end of a word without a vowel', '   G\nlight', '[G]light'],
    ['over the one space before a word', '   G\nhow sweet', 'how [G]sweet'],
    ['over a wide gap: on a held note', '    G\nhow     sweet', 'how [G] sweet'],
    ['after the last word', 'G       D\nsound', '[G]sound [D]'],
    ['before the first word', 'G      D\n       sweet', '[G] [D]sweet'],
    ['over an underscore: held inside a word', 'G  D\nGlo__ria', '[G]Glo[D] ria'],
    ['over a stop', 'G    D\nsweet, how', '[G]sweet, [D] how'],
    ['after a tab', '\tG\nA man    came', 'A man [G]came'],
    ['over letters that take two columns', '    G\n光の家', '光の[G]家'],
    ['over a letter with its mark beside it', '   G\ne\u0301te\u0301 là', 'e\u0301te\u0301 [G]là'],
  ])('%s', (_, text, expected) => {
    expect(sung(song(`T\n\nVerse\n${text}`)).replace(/ +/g, ' ')).toBe(expected);
  });

  it('over an underscore is a note of its own', () => {
    const { voices } = song('T\n\nVerse\nG  D\nGlo__ria');
    expect(voices[0]?.notes.map(({ syllables }) => syllables?.[0] ?? null)).toEqual([
      { text: 'Glo', hyphen: true },
      null,
      { text: 'ria' },
    ]);
  });
});

describe('The order of a song', () => {
  const form = (text: string) => song(text).form.map(({ section }) => section);

  it('repeats an earlier section where its name stands alone', () => {
    expect(form('T\n\nVerse 1\na b\n\nRefrain\nc d\n\nVerse 2\ne f\n\nREFRAIN:\n')).toEqual(['verse-1', 'refrain', 'verse-2', 'refrain']); // prettier-ignore
  });

  it('and where its words are typed again', () => {
    expect(form('T\n\nChorus\nc d\n\nVerse 1\na b\n\nChorus\nc d\n')).toEqual(['chorus', 'verse-1', 'chorus']); // prettier-ignore
  });

  it('sings a section as often as its name says', () => {
    expect(form('T\n\nRefrain (2x)\na b\n\nBridge\nc d\n\nRefrain x3')).toEqual(['refrain', 'refrain', 'bridge', 'refrain', 'refrain', 'refrain']); // prettier-ignore
  });

  it('says which name leads nowhere', () => {
    const result = read('T\n\nVerse\na b\n\nBridge\n');
    expect(result.ok && result.warnings.map(({ code, line }) => [code, line])).toContainEqual(['heading-alone', 6]); // prettier-ignore
  });

  it('makes stanzas of a text without headings', () => {
    const text = 'T\n\n| G | C |\n\nG\nfirst words\n\nsecond words\n';
    expect(song(text).sections.map(({ name }) => name)).toEqual(['Introduction', 'Verse 1', 'Verse 2']); // prettier-ignore
  });

  it('takes numbers before stanzas, and headings before words on their line', () => {
    const text =
      'T\n\n1. Amazing grace\n\n2. Through dangers\n\nRefrain: how sweet\n\nIntro: G  D\n';
    expect(song(text).sections.map(({ name }) => name)).toEqual(['Verse 1', 'Verse 2', 'Refrain', 'Intro']); // prettier-ignore
    expect(sung(song(text))).toBe('Amazing grace | Through dangers | how sweet | [G] [D]');
  });

  it('repeats a line that says x2, and writes out what comes more often', () => {
    expect(song('T\n\nVerse\nwords here x2').bars).toMatchObject([{ repeatStart: true, repeatEnd: true }]); // prettier-ignore
    expect(sung(song('T\n\nVerse\nG\nwords here (3x)'))).toBe('[G]words here | [G]words here | [G]words here'); // prettier-ignore
  });

  it('keeps bars and repeats of chords alone', () => {
    const { bars } = song('T\n\nIntro\n|: G  C | D :|');
    expect(bars.map(({ repeatStart, repeatEnd }) => [repeatStart, repeatEnd])).toEqual([[true, false], [false, true]]); // prettier-ignore
  });

  it('changes key where a line says so', () => {
    const { keys } = song('T\nKey: D\n\nVerse 1\nD\na b\n\nKey: E\nVerse 2\nE\nc d');
    expect(keys.map(({ key }) => sayKey(key))).toEqual(['D major', 'E major']);
  });
});

describe('Headings and facts as people paste them', () => {
  it.each([
    ['[Verse 1]', 'Verse 1'],
    ['(Chorus)', 'Chorus'],
    ['<Bridge>', 'Bridge'],
    ['CHORUS - 2x', 'Chorus'],
    ['Repeat Chorus', 'Chorus'],
    ['(Repeat chorus)', 'Chorus'],
    ['Chorus again', 'Chorus'],
    ['V1', 'Verse 1'],
    ['Ch.', 'Chorus'],
    ['Verse 2 (softly)', 'Verse 2'],
    ['Pre Chorus', 'Pre Chorus'],
    ['Überleitung', 'Überleitung'],
    ['3.', 'Verse 3'],
  ])('%s names a section', (heading, name) => {
    const score = song(`T\n\n${heading}\nG\nwords of it\n\nOther:\nC\nother words\n`);
    expect(score.sections[0]?.name.toLowerCase()).toBe(name.toLowerCase());
    expect(sung(score)).toBe('[G]words of it | [C]other words');
  });

  it('say what was left out beside a name', () => {
    const result = read('T\n\nVerse 2 (softly)\nG\nwords');
    expect(result.ok && result.warnings.find(({ line }) => line === 3)?.message).toContain(
      'softly',
    );
  });

  it('stand under the title without a colon too', () => {
    const score = song('A song\nKey of D\nCapo 3\n4/4\nWords: Ada Example\n\nD\nfirst words\n');
    expect(score.facts).toMatchObject({
      title: 'A song',
      credits: ['Words: Ada Example'],
      other: [
        ['capo', '3'],
        ['time', '4/4'],
      ],
    });
    expect(sayKey(score.keys[0]?.key ?? { tonic: 'C', mode: 'minor' })).toBe('D major');
    expect(score.sections.map(({ name }) => name)).toEqual(['Verse 1']);
  });

  it('a doxology is a title where it stands alone over the song', () => {
    const score = song('Doxology\n\nG\nPraise God from whom\n');
    expect([score.facts.title, score.sections.length]).toEqual(['Doxology', 1]);
  });

  it('stanzas without headings are verses, the first too', () => {
    const score = song('T\n\nG   C\nfirst words\n\nG   C\nsecond words\n');
    expect(score.sections.map(({ kind, name }) => [kind, name])).toEqual([
      ['verse', 'Verse 1'],
      ['verse', 'Verse 2'],
    ]);
  });

  it('a chord after a sign that takes no room is a chord', () => {
    expect(sung(song('T\n\nVerse\n\u200BG   \u200BC\nhow sweet'))).toBe('[G]how [C]sweet');
  });
});

/** The rule is common practice: what most chords lie in, then the last, the first and the most frequent tonic chord. */
describe('The key that chords speak for', () => {
  it.each([
    ['G C D G', 'G major'],
    ['Em D C B7 Em', 'E minor'],
    ['Am G F E7 Am', 'A minor'],
    ['Bb Eb F7 Bb', 'B♭ major'],
    ['Gb Cb Db7 Gb', 'G♭ major'],
    ['C', 'C major'],
    ['N.C.', 'C major'],
  ])('%s: %s, in doubt', (chords, key) => {
    const result = read(`T\n\n${chords.replaceAll(' ', '   ')}\nsome words that are sung`);
    const found = result.ok ? result.value.keys[0] : undefined;
    expect(found && sayKey(found.key)).toBe(key);
    expect(found?.sure).toBe(false);
    expect(result.ok && result.warnings.some(({ code }) => code === 'guess-key')).toBe(true);
  });
});

describe('What is no song', () => {
  it.each([
    ['nothing', '', 'nothing-here', 1],
    ['empty lines', ' \n\t\n\n', 'nothing-here', 1],
    ['only headings', 'Verse 1\nRefrain\n', 'nothing-here', 1],
    ['a line without end', `T\n\n${'la '.repeat(300)}`, 'line-too-long', 3],
    ['too many lines', 'la\n'.repeat(LIMITS.lines + 5), 'text-too-long', LIMITS.lines + 1],
    ['too many letters', 'lala lala\n'.repeat(7000), 'text-too-long', 1],
    ['too many sections', Array.from({ length: 300 }, (_, i) => `Verse ${i % 99}\nla ${i}`).join('\n'), 'too-many-sections', 201],
  ])('is told with its line: %s', (_, text, code, line) => {
    const result = read(text);
    expect(!result.ok && result.problems[0]).toMatchObject({ code, line });
  }); // prettier-ignore

  it('but chords alone are one', () => {
    expect(song('G  C  D  G').chords).toHaveLength(4);
  });
});

describe('A song written', () => {
  it('is what people type, chords over the letters they belong to', () => {
    const head = ['Title: The Evening Lamp', 'Key: G major', 'Tempo: 76', 'Words: Ada'];
    const song1 = ['', 'Intro', '| G | D |', '', 'Verse 1'];
    const song2 = ['A lamp in the window', '', 'Refrain'];
    const song3 = ['', 'Verse 2', 'words without chords', '', 'Refrain', ''];
    const typed = [
      ...head,
      ...song1,
      '  G        D7',
      ...song2,
      'C      G',
      'Burn,  low',
      ...song3,
    ];
    const written = [...head, ...song1, '  G       D7', ...song2, 'C     G', 'Burn, low', ...song3];
    expect(write(song(typed.join('\n')))).toBe(written.join('\n'));
  });
});
