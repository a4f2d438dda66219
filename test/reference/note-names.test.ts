import { describe, expect, it } from 'vitest';
import { Keys, NoteNames, Pitches } from '#music';

/*
 * Names of the notes as LilyPond 2.24.1 knows them (scm/lily/define-note-names.scm, languages `deutsch` and `italiano`):
 * the first name of each, in small letters; Italian marks a sharp with d, a flat with b.
 */
const DEUTSCH = `
  Cbb=ceses Cb=ces C=c C#=cis C##=cisis
  Dbb=deses Db=des D=d D#=dis D##=disis
  Ebb=eses Eb=es E=e E#=eis E##=eisis
  Fbb=feses Fb=fes F=f F#=fis F##=fisis
  Gbb=geses Gb=ges G=g G#=gis G##=gisis
  Abb=asas Ab=as A=a A#=ais A##=aisis
  Bbb=heses Bb=b B=h B#=his B##=hisis`;
const ITALIANO = `
  Cbb=dobb Cb=dob C=do C#=dod C##=dodd
  Dbb=rebb Db=reb D=re D#=red D##=redd
  Ebb=mibb Eb=mib E=mi E#=mid E##=midd
  Fbb=fabb Fb=fab F=fa F#=fad F##=fadd
  Gbb=solbb Gb=solb G=sol G#=sold G##=soldd
  Abb=labb Ab=lab A=la A#=lad A##=ladd
  Bbb=sibb Bb=sib B=si B#=sid B##=sidd`;

const tableOf = (text: string) =>
  text
    .trim()
    .split(/\s+/)
    .map((each) => each.split('=') as [note: string, name: string]);
const C = { tonic: 'C', mode: 'major' } as const;

describe('Note names', () => {
  it.each(tableOf(DEUTSCH))('%s is %s in German', (note, name) => {
    expect(NoteNames.say(note, 'german', C).toLowerCase()).toBe(name);
    expect(NoteNames.say(`${note}3`, 'german', C).toLowerCase()).toBe(name);
  });

  it.each(tableOf(ITALIANO))('%s is %s in Italian', (note, name) => {
    const ours = NoteNames.say(note, 'solfege', C).toLowerCase();
    expect(ours.replaceAll('♯', 'd').replaceAll('♭', 'b')).toBe(name);
  });

  it('are 35 in each table', () => {
    expect([DEUTSCH, ITALIANO].map((each) => tableOf(each).length)).toEqual([35, 35]);
  });

  it('are English letters with their signs', () => {
    expect(['C', 'Bb3', 'F##', 'Ebb5'].map((each) => NoteNames.say(each, 'english', C))).toEqual([
      'C',
      'B♭',
      'F♯♯',
      'E♭♭',
    ]);
  });

  it('are numbers in the key: 1 to 7 along its own scale, with signs for what lies outside', () => {
    for (const text of ['C', 'Eb', 'F# minor', 'D dorian']) {
      const key = Keys.readKey(text);
      if (!key) throw new Error(text);
      const scale = Keys.scaleOf(key).map((note) => NoteNames.say(note, 'numbers', key));
      expect(scale, text).toEqual(['1', '2', '3', '4', '5', '6', '7']);
    }
    const G = { tonic: 'G', mode: 'major' } as const;
    expect(['C#4', 'F4', 'Bb4'].map((each) => NoteNames.say(each, 'numbers', G))).toEqual([
      '♯4',
      '♭7',
      '♭3',
    ]);
  });

  it('name each note apart', () => {
    const notes = Pitches.LETTERS.flatMap((letter) => ['bb', 'b', '', '#', '##'].map((sign) => letter + sign)); // prettier-ignore
    for (const names of NoteNames.NOTE_NAMES)
      expect(new Set(notes.map((note) => NoteNames.say(note, names, C))).size, names).toBe(35);
    expect(NoteNames.naturals('german')).toEqual(['C', 'D', 'E', 'F', 'G', 'A', 'H']);
  });
});
