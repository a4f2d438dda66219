import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { MusicXml, QUARTER } from '#music';
import {
  attributes,
  FOUR,
  note,
  played,
  problems,
  readScore,
  readWith,
  smallXml,
} from '#test/support/small-xml.ts';

/**
 * Small files by hand, after the documentation of MusicXML 4.0 (W3C Music Notation Community Group,
 * w3.org/2021/06/musicxml40); each says which page its elements and their meaning are from.
 */

/** Tutorial, “Hello World”: one whole note, middle C, in 4/4, as it stands there. */
const HELLO = `<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!DOCTYPE score-partwise PUBLIC
    "-//Recordare//DTD MusicXML 4.0 Partwise//EN"
    "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0">
  <part-list>
    <score-part id="P1">
      <part-name>Music</part-name>
    </score-part>
  </part-list>
  <part id="P1">
    <measure number="1">
      <attributes>
        <divisions>1</divisions>
        <key>
          <fifths>0</fifths>
        </key>
        <time>
          <beats>4</beats>
          <beat-type>4</beat-type>
        </time>
        <clef>
          <sign>G</sign>
          <line>2</line>
        </clef>
      </attributes>
      <note>
        <pitch>
          <step>C</step>
          <octave>4</octave>
        </pitch>
        <duration>4</duration>
        <type>whole</type>
      </note>
    </measure>
  </part>
</score-partwise>
`;

describe('Files and their forms', () => {
  it('reads the first example (tutorial, “Hello World”)', () => {
    const { score, codes } = readWith(HELLO);
    expect(played(score)).toBe('C4:4');
    expect(score.meters).toEqual([{ at: 0, meter: { beats: 4, unit: 4 } }]);
    expect(score.keys[0]).toMatchObject({ key: { tonic: 'C', mode: 'major' }, sure: true });
    expect(score.voices[0]).toMatchObject({ group: 'Music', staff: 1, clef: 'treble' });
    expect(codes).toEqual([]);
  });

  it('reads it timewise (page `score-timewise`)', () => {
    const timewise = HELLO.replaceAll('score-partwise', 'score-timewise')
      .replace('<part id="P1">', '<measure-of number="1">')
      .replace('<measure number="1">', '<part id="P1">')
      .replace('</measure>', '</part-of>')
      .replace('</part>', '</measure>')
      .replace('</part-of>', '</part>')
      .replace('<measure-of', '<measure');
    expect(timewise).toMatch(/<measure number="1">\s*<part id="P1">/);
    expect(readScore(timewise)).toEqual(readScore(HELLO));
  });

  it('reads UTF-16 with and without its mark, and Latin-1 that says so (XML 1.0, section 4.3.3 and appendix F)', () => {
    const titled = HELLO.replace(
      '<part-list>',
      '<movement-title>Été “C”</movement-title><part-list>',
    );
    const wide = (text: string): Uint8Array =>
      new Uint8Array(Uint16Array.from(text, (sign) => sign.charCodeAt(0)).buffer);
    const utf16 = titled.replace('UTF-8', 'UTF-16');
    expect(readScore(wide(`\uFEFF${utf16}`)).facts.title).toBe('Été “C”');
    expect(readScore(wide(utf16)).facts.title).toBe('Été “C”');
    expect(readScore(wide(`\uFEFF${utf16}`).toReversed().slice().reverse()).facts.title).toBe(
      'Été “C”',
    );
    const latin = HELLO.replace('UTF-8', 'ISO-8859-1').replace(
      '<part-list>',
      '<movement-title>Été</movement-title><part-list>',
    );
    const bytes = Uint8Array.from(latin, (sign) => sign.charCodeAt(0));
    expect(readWith(bytes)).toMatchObject({ score: { facts: { title: 'Été' } }, codes: [] });
  });

  it('reads a compressed file, and one whose container is wrong (page “Compressed .mxl files”)', () => {
    const container = (path: string): Uint8Array =>
      strToU8(`<container><rootfiles><rootfile full-path="${path}"/></rootfiles></container>`);
    const right = zipSync({
      'META-INF/container.xml': container('music/hello.xml'),
      'music/hello.xml': strToU8(HELLO),
    });
    expect(readWith(right)).toMatchObject({ codes: [] });
    const wrong = zipSync({
      'META-INF/container.xml': container('elsewhere.xml'),
      'about.xml': strToU8('<about/>'),
      'music/hello.xml': strToU8(HELLO),
    });
    expect(readWith(wrong)).toEqual({ score: readScore(HELLO), codes: ['container-wrong'] });
    const none = zipSync({ 'music/hello.xml': strToU8(HELLO) });
    expect(readWith(none)).toEqual({ score: readScore(HELLO), codes: ['container-wrong'] });
  });
});

describe('Bars', () => {
  it('counts a pickup as bar 0 (page `measure`: `implicit`), also where the file counts it as 1', () => {
    const measures = (first: string) =>
      [
        [first, attributes() + note('G4')],
        ['number="1"', FOUR],
        ['number="2"', note('C4:2') + note('r:1')],
      ] as const;
    const { score, codes } = readWith(
      smallXml([{ measures: measures('number="0" implicit="yes"') }]),
    );
    expect(score.bars.map(({ number, length }) => [number, length / QUARTER])).toEqual([
      [0, 1],
      [1, 4],
      [2, 3],
    ]);
    expect(codes).toEqual([]);
    const counted = smallXml([
      {
        measures: [attributes() + note('G4'), FOUR, note('C4:2') + note('r:1')],
      },
    ]);
    expect(readScore(counted).bars.map(({ number }) => number)).toEqual([0, 1, 2]);
    expect(readWith(counted).codes).toEqual(['info-pickup-number']);
  });

  it('gives the two halves of a bar one number (page `measure`: `implicit`)', () => {
    const score = readScore(
      smallXml([
        {
          measures: [
            ['number="1"', attributes() + FOUR],
            ['number="2"', note('C4:2')],
            ['number="X1" implicit="yes"', note('C4:2')],
            ['number="3"', FOUR],
          ],
        },
      ]),
    );
    expect(score.bars.map(({ number }) => number)).toEqual([1, 2, 2, 3]);
  });

  it('does not count the rest of a bar that its number names again, nor steps at the very end', () => {
    const { score, codes } = readWith(
      smallXml([
        {
          measures: [
            ['number="0"', attributes() + note('G4')],
            ['number="1"', note('C4:2')],
            ['number="1a"', note('C4:2')],
            ['number="2"', note('C4:2') + note('D4') + '<forward><duration>1</duration></forward>'],
          ],
        },
      ]),
    );
    expect(score.bars.map(({ number, length }) => [number, length / QUARTER])).toEqual([
      [0, 1],
      [1, 2],
      [1, 2],
      [2, 3],
    ]);
    expect(codes).toEqual(['guess-key']);
  });

  it('reads repeats and endings (pages `repeat`, `ending`)', () => {
    const ending = (location: string, number: string, type: string, repeat = ''): string =>
      `<barline location="${location}"><ending number="${number}" type="${type}"/>${repeat}</barline>`;
    const score = readScore(
      smallXml([
        {
          measures: [
            attributes() +
              '<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>' +
              FOUR,
            ending('left', '1, 2', 'start') +
              FOUR +
              ending('right', '1, 2', 'stop', '<repeat direction="backward"/>'),
            ending('left', '3', 'start') + FOUR,
            FOUR +
              ending('right', '3', 'discontinue').replace(
                '<ending',
                '<bar-style>light-light</bar-style><ending',
              ),
            FOUR + '<barline><bar-style>light-heavy</bar-style></barline>',
          ],
        },
      ]),
    );
    expect(score.bars.map(({ endings }) => endings)).toEqual([[], [1, 2], [3], [3], []]);
    expect(score.bars.map(({ line }) => line)).toEqual([
      'single',
      'final',
      'single',
      'double',
      'final',
    ]);
    expect(score.bars[0]?.repeatStart).toBe(true);
    expect(score.bars[1]?.repeatEnd).toBe(true);
  });

  it('tells a bar that is too short or too long by its number, and refuses parts that disagree', () => {
    const short = smallXml([
      { measures: [attributes() + FOUR, note('C4:2'), FOUR, FOUR + note('C4')] },
    ]);
    const read = MusicXml.read(short);
    expect(read.ok && read.warnings.map(({ message }) => message)).toEqual([
      'Bar 2 has 2 beats where the meter has 4 beats.',
      'Bar 4 has 5 beats where the meter has 4 beats.',
    ]);
    const two = smallXml([
      { name: 'High', measures: [attributes() + FOUR, FOUR] },
      { name: 'Low', measures: [attributes() + FOUR, note('C3:2')] },
    ]);
    expect(problems(two)).toMatchObject([
      { code: 'voices-disagree', message: 'Bar 2 of Low has 2 beats, in High it has 4 beats.' },
    ]);
  });

  it('reads free meter, added meters and changes (page `time`)', () => {
    const free = attributes().replace(/<time>.*<\/time>/, '<time><senza-misura/></time>');
    const added =
      '<attributes><time><beats>3+2</beats><beat-type>8</beat-type></time></attributes>';
    const eighths = Array(5)
      .fill('<note><rest/><duration>1</duration><type>eighth</type></note>')
      .join('');
    const score = readScore(
      smallXml([
        {
          measures: [
            free.replace('<divisions>1<', '<divisions>2<') + note('C4:7'),
            added +
              eighths.replaceAll('<rest/>', '<pitch><step>G</step><octave>4</octave></pitch>'),
          ],
        },
      ]),
    );
    expect(score.meters.map(({ meter }) => meter)).toEqual([
      { beats: null, unit: 4 },
      { beats: 5, unit: 8 },
    ]);
    expect(score.bars.map(({ length }) => length / QUARTER)).toEqual([3.5, 2.5]);
  });

  it('takes quarters where no divisions are given and the values agree, else refuses (page `divisions`)', () => {
    const none = HELLO.replace('<divisions>1</divisions>', '');
    expect(readWith(none)).toEqual({ score: readScore(HELLO), codes: ['divisions-missing'] });
    const eighths = none.replace('<duration>4<', '<duration>8<');
    expect(problems(eighths)).toMatchObject([{ code: 'divisions-missing' }]);
  });
});
