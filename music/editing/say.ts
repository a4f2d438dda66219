import { read as readChord, say as sayChord } from '../pitch/chord-symbol.ts';
import { sayKey, sayNote } from '../pitch/key.ts';
import { passesOf } from '../score/form.ts';
import { counted, listed } from '../score/number-words.ts';
import type { Meter, Score, Ticks } from '../score/score.ts';
import { verseForAll } from '../score/sung-verses.ts';
import { endOf, noteAt } from '../score/time.ts';
import type { BarEdit, ChordEdit, NoteEdit, OneEdit, SectionEdit, WordsEdit } from './edit.ts';
import { capital, sayBar, sayBegin, sayLength, sayPitches, sayPlace } from './place-words.ts';
import { isWhole } from './refusal.ts';
import { tidied } from './typed-text.ts';

function place(score: Score, at: Ticks): string {
  return isWhole(at, 0, endOf(score) - 1) ? capital(sayPlace(score, at)) : 'After the end';
}

function bar(score: Score, index: number): string {
  const found = score.bars[index];
  return found ? sayBar(score, found) : 'the end';
}

const sectionName = (score: Score, id: string): string =>
  score.sections.find((section) => section.id === id)?.name ?? 'a section';

const sayMeter = ({ beats, unit }: Meter): string => (beats === null ? 'no meter' : `${beats}/${unit}`); // prettier-ignore

function soundingAt(score: Score, id: string, at: Ticks): string {
  const voice = score.voices.find((each) => each.id === id);
  return sayPitches((voice && noteAt(voice, at)?.pitches) ?? []);
}

function sayNoteEdit(score: Score, edit: NoteEdit): string {
  if (edit.do === 'add voice') return `Voice added: ${tidied(edit.name) || edit.id}`;
  const name = score.voices.find(({ id }) => id === edit.voice)?.name ?? edit.voice;
  if (edit.do === 'remove voice') return `Voice taken out: ${name}`;
  const where = `${place(score, edit.at)}${edit.voice === score.melody ? '' : `, ${name}`}`;
  const now = soundingAt(score, edit.voice, edit.at);
  switch (edit.do) {
    case 'note':
      return `${where}: ${sayPitches(edit.pitches)}, ${sayLength(edit.length, edit.tuplet)}`;
    case 'erase':
      return `${where}: ${now} erased`;
    case 'pitch':
      return `${where}: ${now} becomes ${sayPitches(edit.pitches)}`;
    case 'tie':
      return `${where}: ${now} ${edit.on ? 'tied to the next note' : 'no longer tied'}`;
    case 'fermata':
      return `${where}: ${edit.on ? 'fermata' : 'no fermata'}`;
    case 'slur':
      return `${where}: ${edit.on ? `${now} slurred to the next note` : 'slur taken away'}`;
  }
}

function sayWordsEdit(score: Score, edit: WordsEdit): string {
  switch (edit.do) {
    case 'syllable': {
      const text = tidied(edit.syllable?.text ?? '');
      return `${place(score, edit.at)}, verse ${edit.verse}: ${text === '' ? 'no syllable' : `“${text}”`}`;
    }
    case 'words': {
      const what = tidied(edit.text) === '' ? 'words taken away' : 'words under the notes';
      const section = score.sections.find(({ id }) => id === edit.section);
      const isForAll = section && verseForAll(score, section) === edit.verse;
      return `${section?.name ?? 'a section'}, ${isForAll ? 'all verses' : `verse ${edit.verse}`}: ${what}`; // prettier-ignore
    }
    case 'remove verse':
      return `Verse ${edit.verse} taken out`;
  }
}

function sayChordEdit(score: Score, edit: ChordEdit): string {
  switch (edit.do) {
    case 'chord': {
      const read = edit.symbol === null ? null : readChord(edit.symbol);
      const chord =
        read === null ? 'no chord' : read.ok ? sayChord(read.value) : (edit.symbol ?? '');
      return `${place(score, edit.at)}: ${chord}`;
    }
    case 'remove chord': {
      const chord = score.chords.find(({ at }) => at === edit.at)?.chord;
      return `${place(score, edit.at)}: ${chord ? sayChord(chord) : 'chord'} taken away`;
    }
    case 'chords as in':
      return `Chords of ${sectionName(score, edit.to)} as in ${sectionName(score, edit.from)}`;
  }
}

function sayBarEdit(score: Score, edit: BarEdit): string {
  switch (edit.do) {
    case 'insert bars': {
      const where = edit.bar >= score.bars.length ? 'at the end' : `before ${bar(score, edit.bar)}`;
      return capital(`${counted(edit.count, 'bar', 'bars')} put in ${where}`);
    }
    case 'remove bars': {
      const [first, last] = [bar(score, edit.from), bar(score, edit.to - 1)];
      return capital(`${first}${first === last ? '' : ` to ${last}`} taken out`);
    }
    case 'pickup':
      return edit.length === 0 ? 'No pickup' : `Pickup of ${sayLength(edit.length)}`;
    case 'meter':
      return `From ${bar(score, edit.bar)} on: ${sayMeter(edit.meter)}`;
    case 'key':
      if (edit.key === null) return `Change of key at ${bar(score, edit.bar)} taken away`;
      return `From ${bar(score, edit.bar)} on: ${sayKey(edit.key)}`;
    case 'move to key':
      return `From ${bar(score, edit.bar)} on: moved to ${sayKey(edit.key)}`;
    case 'repeat': {
      const said = [
        edit.start === undefined ? [] : [edit.start ? 'repeat begins' : 'no repeat begins'],
        edit.end === undefined ? [] : [edit.end ? 'repeat ends' : 'no repeat ends'],
        edit.endings === undefined ? [] : [edit.endings.length === 0 ? 'no ending' : `ending${edit.endings.length > 1 ? 's' : ''} ${listed(edit.endings.map(String))}`], // prettier-ignore
      ].flat();
      return capital(`${bar(score, edit.bar)}: ${listed(said) || 'as it was'}`);
    }
    case 'give time': {
      const bars = edit.barsPerChord === 1 ? 'a bar' : `${edit.barsPerChord} bars`;
      return `Bars of ${sayMeter(edit.meter)}, ${bars} for each chord`;
    }
  }
}

function saySectionEdit(score: Score, edit: SectionEdit): string {
  switch (edit.do) {
    case 'begin section': {
      const found = score.bars[edit.bar];
      const where = found ? sayBegin(score, found, edit.at ?? found.at) : 'the end';
      return `${tidied(edit.name) || 'A section'} begins with ${where}`;
    }
    case 'section': {
      const name = sectionName(score, edit.id);
      return name === tidied(edit.name)
        ? `${name} changed`
        : `${name} becomes ${tidied(edit.name)}`;
    }
    case 'join section': {
      const index = score.sections.findIndex(({ id }) => id === edit.id);
      const before = score.sections[index - 1]?.name ?? 'the one before';
      return `${sectionName(score, edit.id)} joined to ${before}`;
    }
    case 'form': {
      const isKnown = edit.form.every(({ section }) => score.sections.some(({ id }) => id === section)); // prettier-ignore
      if (!isKnown || edit.form.length === 0) return 'Order of the song';
      const names = passesOf({ ...score, form: edit.form }).map(({ name }) => name);
      return `Order of the song: ${names.slice(0, 8).join(', ')}${names.length > 8 ? ' …' : ''}`;
    }
  }
}

function sayTempo(
  score: Score,
  { tempo, bar: index = 0 }: Extract<OneEdit, { do: 'tempo' }>,
): string {
  const mark = tempo && `${sayLength(tempo.beat).replace(/^an? /, '')} = ${tempo.perMinute}`;
  if (index === 0) return mark === null ? 'No tempo' : `Tempo: ${mark}`;
  if (mark === null) return `Change of tempo at ${bar(score, index)} taken away`;
  return `From ${bar(score, index)} on: ${mark}`;
}

/** What one edit does, in a line. */
export function sayOne(score: Score, edit: OneEdit): string {
  switch (edit.do) {
    case 'facts':
      return `Facts changed: ${listed(Object.keys(edit.facts)) || 'none'}`;
    case 'compass': {
      if (edit.compass === null) return 'Lowest and highest note taken back';
      const { low, high, mostly } = edit.compass;
      const most = mostly ? `, mostly ${sayNote(mostly.low)} to ${sayNote(mostly.high)}` : '';
      return `The tune lies from ${sayNote(low)} to ${sayNote(high)}${most}`;
    }
    case 'tempo':
      return sayTempo(score, edit);
    case 'syllable':
    case 'words':
    case 'remove verse':
      return sayWordsEdit(score, edit);
    case 'chord':
    case 'remove chord':
    case 'chords as in':
      return sayChordEdit(score, edit);
    case 'begin section':
    case 'section':
    case 'join section':
    case 'form':
      return saySectionEdit(score, edit);
    case 'insert bars':
    case 'remove bars':
    case 'pickup':
    case 'meter':
    case 'key':
    case 'move to key':
    case 'repeat':
    case 'give time':
      return sayBarEdit(score, edit);
    default:
      return sayNoteEdit(score, edit);
  }
}
