import { describe, expect, it } from 'vitest';
import { QUARTER } from '#music';
import {
  attributes,
  FOUR,
  note,
  played,
  readScore,
  readWith,
  smallXml,
} from '#test/support/small-xml.ts';

/**
 * Small files by hand, after the documentation of MusicXML 4.0 (W3C Music Notation Community Group,
 * w3.org/2021/06/musicxml40); each says which page its elements and their meaning are from.
 */

describe('Voices', () => {
  it('reads two staves and a voice that begins late (pages `backup`, `forward`, `staff`)', () => {
    const on = (voice: number, staff: number) =>
      `<voice>${String(voice)}</voice><staff>${String(staff)}</staff>`;
    const clefs =
      '<staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef>';
    const score = readScore(
      smallXml([
        {
          name: 'Piano',
          measures: [
            attributes('4/4', clefs) +
              note('C5:4', on(1, 1)) +
              '<backup><duration>4</duration></backup><forward><duration>2</duration></forward>' +
              note('E4:2', on(2, 1)) +
              '<backup><duration>4</duration></backup>' +
              note('C3:2', on(5, 2)) +
              '<note><chord/><pitch><step>G</step><octave>2</octave></pitch><duration>2</duration><voice>5</voice><staff>2</staff></note>' +
              note('G2:2', on(5, 2)),
          ],
        },
      ]),
    );
    expect(score.voices.map(({ staff, clef, group }) => [staff, clef, group])).toEqual([
      [1, 'treble', 'Piano'],
      [1, 'treble', 'Piano'],
      [2, 'bass', 'Piano'],
    ]);
    expect([0, 1, 2].map((voice) => played(score, voice))).toEqual([
      'C5:4',
      'r:2 E4:2',
      'G2+C3:2 G2:2',
    ]);
    expect(score.voices[1]?.notes[0]).toMatchObject({ hidden: true });
  });

  it('reads a clarinet in B flat and a double bass as they sound (page `transpose`)', () => {
    const clarinet = attributes(
      '4/4',
      '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>',
    ).replace('<fifths>0', '<fifths>2');
    const bass = attributes(
      '4/4',
      '<clef><sign>F</sign><line>4</line></clef><transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>',
    );
    const score = readScore(
      smallXml([
        { name: 'Clarinet', measures: [clarinet + note('D5:2') + note('F#5:2')] },
        { name: 'Bass', measures: [bass + note('C3:4')] },
      ]),
    );
    expect(played(score, 0)).toBe('C5:2 E5:2');
    expect(played(score, 1)).toBe('C2:4');
    expect(score.keys.map(({ signature }) => signature)).toEqual([0]);
    expect(score.voices[1]?.clef).toBe('bass-8');
  });

  it('reads a triplet, also where the divisions are too coarse for it (page `time-modification`)', () => {
    const triplet = (length: number) =>
      ['C4', 'D4', 'E4'].map((name) =>
        note(
          `${name}:${String(length)}`,
          '<type>eighth</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>',
        ),
      );
    const fine = readScore(
      smallXml([{ measures: [attributes('2/4', '', 3) + triplet(1).join('') + note('G4:3')] }]),
    );
    const lengths = fine.voices[0]?.notes.map(({ length }) => length);
    expect(lengths).toEqual([QUARTER / 3, QUARTER / 3, QUARTER / 3, QUARTER]);
    expect(fine.voices[0]?.notes[0]?.tuplet).toEqual({ actual: 3, normal: 2 });
    const [a = '', b = ''] = triplet(1);
    const [, , c = ''] = triplet(2);
    const coarse = readScore(
      smallXml([{ measures: [attributes('2/4', '', 4) + a + b + c + note('G4:4')] }]),
    );
    expect(coarse.voices[0]?.notes.map(({ length }) => length)).toEqual(lengths);
  });

  it('reads ties, slurs, graces, fermata, fingers, beams and pedal (pages of those names)', () => {
    const direction = (type: string) =>
      `<direction><direction-type><pedal type="${type}"/></direction-type></direction>`;
    const score = readScore(
      smallXml([
        {
          measures: [
            attributes() +
              '<note><grace/><pitch><step>B</step><octave>3</octave></pitch><voice>1</voice><type>eighth</type></note>' +
              direction('start') +
              note(
                'C4:2',
                '<tie type="start"/><notations><tied type="start"/><slur type="start"/><technical><fingering>1</fingering></technical></notations>',
              ) +
              direction('change') +
              note('C4:1', '<tie type="stop"/><notations><tied type="stop"/></notations>') +
              note(
                'D4:1',
                '<notations><slur type="stop"/><fermata/><articulations><staccato/></articulations></notations>',
              ) +
              direction('stop'),
            FOUR,
          ],
        },
      ]),
    );
    expect(score.voices[0]?.notes.slice(0, 4)).toEqual([
      {
        at: 0,
        length: 2 * QUARTER,
        pitches: ['C4'],
        tie: true,
        slurStarts: 1,
        fingers: [1],
        grace: ['B3'],
        pedal: 'down',
      },
      { at: 2 * QUARTER, length: QUARTER, pitches: ['C4'], pedal: 'change' },
      {
        at: 3 * QUARTER,
        length: QUARTER,
        pitches: ['D4'],
        slurEnds: 1,
        fermata: true,
        signs: ['staccato'],
      },
      { at: 4 * QUARTER, length: QUARTER, pitches: ['C4'], pedal: 'up' },
    ]);
  });

  it('leaves out cues and drums, and says so (pages `cue`, `unpitched`)', () => {
    const cue = note('G5:2').replace('<note>', '<note><cue/>');
    const drum = `<note><unpitched/><duration>4</duration></note>`;
    const { score, codes } = readWith(
      smallXml([
        { name: 'Voice', measures: [attributes() + cue + note('C4:2')] },
        { name: 'Drums', measures: [attributes() + drum] },
      ]),
    );
    expect(played(score)).toBe('r:2 C4:2');
    expect(score.voices).toHaveLength(1);
    expect(codes).toEqual(['cues-left-out', 'unpitched-left-out', 'part-empty']);
  });
});

describe('Words and chords', () => {
  const lyric = (text: string, syllabic = 'single', number = '1') =>
    `<lyric number="${number}"><syllabic>${syllabic}</syllabic><text>${text}</text></lyric>`;

  it('reads verses, hyphens and two words on one note (pages `lyric`, `syllabic`, `elision`)', () => {
    const both =
      '<lyric number="1"><syllabic>end</syllabic><text>ry</text><elision>‿</elision><syllabic>single</syllabic><text>of</text></lyric>';
    const score = readScore(
      smallXml([
        {
          measures: [
            attributes() +
              note('C4', lyric('1. Glo', 'begin') + lyric('2. In', 'single', '2')) +
              note('D4', both + lyric('the', 'single', '2')) +
              note('E4:2', lyric('God') + lyric('morn', 'begin', '2')),
          ],
        },
      ]),
    );
    expect(score.verses).toEqual([
      { number: 1, label: '1.' },
      { number: 2, label: '2.' },
    ]);
    expect(score.voices[0]?.notes.map(({ syllables }) => syllables)).toEqual([
      [{ text: 'Glo', hyphen: true }, { text: 'In' }],
      [{ text: 'ry of' }, { text: 'the' }],
      [{ text: 'God' }, { text: 'morn', hyphen: true }],
    ]);
    expect(score.form.map(({ verse }) => verse)).toEqual([1, 2]);
  });

  it('keeps one syllable of a verse on a note, and tells the other (page `lyric`: `number` and `name`)', () => {
    const chorus = lyric('Sing').replace('<lyric ', '<lyric name="Chorus" ');
    const { score, codes } = readWith(
      smallXml([{ measures: [attributes() + note('C4:4', lyric('O') + chorus)] }]),
    );
    expect(score.voices[0]?.notes[0]?.syllables).toEqual([{ text: 'O' }]);
    expect(codes).toEqual(['words-twice']);
  });

  it('takes the tune from the first voice with words, and sections from their names (pages `words`, `rehearsal`)', () => {
    const direction = (type: string) =>
      `<direction><direction-type>${type}</direction-type></direction>`;
    const score = readScore(
      smallXml([
        { name: 'Flute', measures: [attributes() + FOUR, FOUR, FOUR] },
        {
          name: 'Voice',
          measures: [
            attributes() + direction('<words>Verse</words>') + note('C4:4', lyric('O')),
            direction('<words>Refrain</words>') +
              direction('<words>softly</words>') +
              note('C4:4', lyric('O')),
            direction('<rehearsal>B</rehearsal>') + note('C4:4', lyric('O')),
          ],
        },
      ]),
    );
    expect(score.melody).toBe('P2');
    expect(score.sections.map(({ name, kind, from }) => [name, kind, from / QUARTER])).toEqual([
      ['Verse', 'verse', 0],
      ['Refrain', 'refrain', 4],
      ['B', 'other', 8],
    ]);
    expect(score.voices[1]?.notes[1]?.above).toBe('softly');
  });

  it('reads chords with degrees, bass, inversion and offset; by degree only they are told (page `harmony`)', () => {
    const harmony = (inside: string) => `<harmony>${inside}</harmony>`;
    const root = (step: string) => `<root><root-step>${step}</root-step></root>`;
    const { score, codes } = readWith(
      smallXml([
        {
          measures: [
            attributes() +
              harmony(
                `${root('C')}<kind text="7(♭9)">dominant</kind><degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>`,
              ) +
              harmony(
                `${root('G')}<kind>major</kind><bass><bass-step>B</bass-step></bass><offset>1</offset>`,
              ) +
              note('C4:2') +
              harmony(`${root('D')}<kind>minor</kind><inversion>1</inversion>`) +
              note('C4:1') +
              harmony('<kind>none</kind>') +
              note('C4:1'),
            harmony('<numeral><numeral-root>4</numeral-root></numeral><kind>major</kind>') + FOUR,
          ],
        },
      ]),
    );
    expect(score.chords.map(({ at, chord }) => [at / QUARTER, chord])).toEqual([
      [
        0,
        {
          root: 'C',
          kind: 'dominant',
          degrees: [{ type: 'add', value: 9, alter: -1 }],
          bass: null,
        },
      ],
      [1, { root: 'G', kind: 'major', degrees: [], bass: 'B' }],
      [2, { root: 'D', kind: 'minor', degrees: [], bass: 'F' }],
      [3, null],
    ]);
    expect(codes.filter((code) => !code.startsWith('guess-'))).toEqual(['chord-by-degree']);
  });

  it('names a key by its mode, and finds it from the notes where the file names none (page `mode`)', () => {
    const a = FOUR.replaceAll('C<', 'A<').replaceAll('F<', 'A<');
    const named = attributes().replace(
      '<fifths>0</fifths>',
      '<fifths>0</fifths><mode>minor</mode>',
    );
    expect(readScore(smallXml([{ measures: [named + a] }])).keys[0]).toMatchObject({
      key: { tonic: 'A', mode: 'minor' },
      reason: 'The source names A minor.',
    });
    expect(readScore(smallXml([{ measures: [attributes() + a] }])).keys[0]).toMatchObject({
      key: { tonic: 'A', mode: 'minor' },
      sure: false,
    });
  });

  it('reads a printed tempo before a sounding one (pages `metronome`, `sound`)', () => {
    const printed =
      '<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>c. 60</per-minute></metronome></direction-type><sound tempo="90"/></direction>';
    expect(readScore(smallXml([{ measures: [attributes() + printed + FOUR] }])).tempo).toEqual({
      beat: 1.5 * QUARTER,
      perMinute: 60,
    });
    const sounding = attributes() + '<sound tempo="72.5"/>' + FOUR;
    expect(readScore(smallXml([{ measures: [sounding] }])).tempo?.perMinute).toBe(72.5);
  });

  it('keeps the ways through a song as signs, and tells them (pages `segno`, `sound`)', () => {
    const words = (text: string) =>
      `<direction><direction-type><words>${text}</words></direction-type></direction>`;
    const { score, codes } = readWith(
      smallXml([
        {
          measures: [
            attributes() +
              '<direction><direction-type><segno/></direction-type></direction>' +
              FOUR,
            FOUR + words('Fine'),
            FOUR + words('D.S. al Fine'),
          ],
        },
      ]),
    );
    const signs = score.voices[0]?.notes.flatMap(({ at, signs: own }) =>
      (own ?? []).map((sign) => [at / QUARTER, sign]),
    );
    expect(signs).toEqual([
      [0, 'segno'],
      [7, 'fine'],
      [11, 'D.S.alfine'],
    ]);
    expect(codes.filter((code) => code === 'info-jump')).toHaveLength(3);
  });

  it('reads titles, creators, rights and credits (pages `work`, `creator`, `credit`)', () => {
    const head = `<work><work-title>A book of songs</work-title></work><movement-title>Morning</movement-title>
<identification><creator type="composer">A. Body</creator><creator type="lyricist">Words: B. Body, 1890.</creator><rights>Public domain</rights><source>A print</source></identification>
<credit page="1"><credit-type>subtitle</credit-type><credit-words>at dawn</credit-words></credit>
<credit page="1"><credit-words justify="center" font-size="24">Morning</credit-words></credit>
<credit page="1"><credit-type>arranger</credit-type><credit-words>C. Body</credit-words></credit>`;
    expect(readScore(smallXml([{ measures: [attributes() + FOUR] }], head)).facts).toEqual({
      title: 'Morning',
      subtitles: ['A book of songs', 'at dawn'],
      tune: null,
      hymnMeter: null,
      credits: ['Music: A. Body', 'Words: B. Body, 1890.', 'Arrangement: C. Body'],
      rights: 'Public domain',
      source: 'A print',
      other: [],
    });
  });
});
