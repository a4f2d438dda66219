import { QUARTER, type Ticks } from '../../../score/score.ts';
import type { Report } from '../../report.ts';
import { readDirection, readSound, type Said } from './direction-reader.ts';
import { readHarmony } from './harmony-reader.ts';
import { GraceNotes } from './grace-notes.ts';
import { LONGEST_NOTE } from './limits.ts';
import { readBarline } from './barline-reader.ts';
import {
  isInQuarters,
  isTied,
  newNote,
  readFinger,
  readLength,
  readLyrics,
  readNotations,
  readPitch,
} from './note-reader.ts';
import type { ReadNote } from './read-note.ts';
import { newPart, type Moment, type ReadMeasure, type ReadPart } from './read-part.ts';
import { takeAttributes } from './take-attributes.ts';
import { child, numberOf, textOf, type XmlNode } from './tree.ts';

/** Longest measure that is read, in ticks. */
const LONGEST = LONGEST_NOTE * 4 * QUARTER;

/** Reads one part, measure by measure, as the file gives it: times are kept within their measures. */
export class PartReader {
  readonly part: ReadPart;
  readonly #name: string;
  readonly #report: Report;
  #divisions: number | null = null;
  #cursor: Ticks = 0;
  #measure!: ReadMeasure;
  #last: ReadNote | null = null;
  readonly #graces = new GraceNotes();
  readonly #where = (): string => {
    const bar = this.#measure.number === '' ? '?' : this.#measure.number;
    return `Bar ${bar} of ${this.#name}`;
  };

  constructor(id: string, name: string, report: Report) {
    this.#name = name;
    this.#report = report;
    this.part = newPart(id);
  }

  measure(attributes: Readonly<Record<string, string>>, content: XmlNode): void {
    this.#cursor = 0;
    this.#last = null;
    this.#measure = {
      number: (attributes['number'] ?? '').trim().slice(0, 12),
      implicit: attributes['implicit'] === 'yes',
      line: content.line,
      extent: 0,
      sounds: 0,
      hasPitches: false,
      restExtent: 0,
      leftStyle: null,
      rightStyle: null,
      repeatStart: false,
      repeatEnd: false,
      endingStart: null,
      endingStop: false,
    };
    this.part.measures.push(this.#measure);
    for (const node of content.children) this.#read(node);
  }

  /** Told once the last measure is read. */
  finish(): void {
    const { cues, unpitched } = this.part;
    const at = { line: this.part.measures[0]?.line ?? 1 };
    const notes = (count: number): string => `${String(count)} ${count === 1 ? 'note' : 'notes'}`;
    if (cues > 0) {
      const words = `${this.#name} has ${notes(cues)} for orientation only (cues); they are left out.`;
      this.#report.warn('cues-left-out', words, at);
    }
    if (unpitched > 0) {
      const words = `${this.#name} has ${notes(unpitched)} without a pitch (drums); they are left out.`;
      this.#report.warn('unpitched-left-out', words, at);
    }
    if (this.#graces.areLeft) {
      const words = `${this.#name} ends with grace notes that lead to no note; they are left out.`;
      this.#report.warn('grace-leads-nowhere', words, at);
    }
  }

  #moment(node: XmlNode, offset = 0): Moment {
    return {
      measure: this.part.measures.length - 1,
      at: Math.max(0, this.#cursor + offset),
      line: node.line,
    };
  }

  #read(node: XmlNode): void {
    switch (node.name) {
      case 'note':
        this.#note(node);
        break;
      case 'backup':
      case 'forward':
        this.#move(node);
        break;
      case 'attributes':
        this.#attributes(node);
        break;
      case 'direction':
        this.#direction(node);
        break;
      case 'harmony':
        this.#harmony(node);
        break;
      case 'sound':
        this.#say(node, readSound(node), this.#offset(node));
        break;
      case 'barline':
        readBarline(node, this.#measure, this.part, this.#where, this.#report);
        break;
      case 'figured-bass':
      case 'grouping':
      case 'listening':
        this.part.leftOut.add(node.name);
    }
  }

  /**
   * Divisions in ticks. Where the file has not said how long one is, a quarter note is meant, if the note's own value
   * agrees (so it is read everywhere, and MusicXML 4.1 is to say so); else nobody can tell.
   */
  #perDivision(node: XmlNode): number | null {
    if (this.#divisions !== null) return QUARTER / this.#divisions;
    const at = { line: node.line };
    if (isInQuarters(node)) {
      this.#divisions = 1;
      const words = `${this.#where()} does not say how long its divisions are; quarter notes fit, and are taken.`;
      this.#report.warn('divisions-missing', words, at);
      return QUARTER;
    }
    const words = `${this.#where()} has notes before any divisions are given, so nobody can tell how long they are.`;
    if (!this.#report.problems.some(({ code }) => code === 'divisions-missing')) {
      this.#report.problem('divisions-missing', words, at);
    }
    return null;
  }

  #move(node: XmlNode): void {
    const per = this.#perDivision(node);
    const duration = numberOf(node, 'duration');
    const back = node.name === 'backup';
    if (per === null) return;
    if (duration === null || duration < 0 || duration * per > LONGEST) {
      const words = `${this.#where()} has a step ${back ? 'back' : 'forward'} whose length cannot be understood.`;
      this.#report.problem('duration-odd', words, { line: node.line });
      return;
    }
    const ticks = Math.round(duration * per);
    this.#last = null;
    if (!back) this.#advance(ticks);
    else if (ticks > this.#cursor + per) {
      const words = `${this.#where()} goes back further than its beginning.`;
      this.#report.problem('backup-too-far', words, { line: node.line });
    } else this.#cursor = Math.max(0, this.#cursor - ticks);
  }

  #advance(ticks: Ticks): void {
    this.#cursor += ticks;
    this.#measure.extent = Math.max(this.#measure.extent, this.#cursor);
    if (this.#cursor <= LONGEST) return;
    const words = `${this.#where()} is longer than ${String(LONGEST_NOTE)} whole notes.`;
    if (!this.#report.problems.some(({ code }) => code === 'bar-endless')) {
      this.#report.problem('bar-endless', words, { line: this.#measure.line });
    }
    this.#cursor = LONGEST;
  }

  #attributes(node: XmlNode): void {
    const moment = this.#moment(node);
    const divisions = takeAttributes(node, this.part, moment, this.#where, this.#report);
    if (divisions !== null) this.#divisions = divisions;
  }

  #offset(node: XmlNode): Ticks {
    const offset = numberOf(node, 'offset');
    if (offset === null || this.#divisions === null) return 0;
    const ticks = Math.round((offset * QUARTER) / this.#divisions);
    return Math.abs(ticks) <= LONGEST ? ticks : 0;
  }

  #direction(node: XmlNode): void {
    const { said, leftOut } = readDirection(node);
    for (const name of leftOut) this.part.leftOut.add(name);
    this.#say(node, said, this.#offset(node));
  }

  #say(node: XmlNode, list: readonly Said[], offset: Ticks): void {
    const moment = this.#moment(node, offset);
    const staff = numberOf(node, 'staff') ?? 1;
    const voice = textOf(node, 'voice') || null;
    for (const said of list) this.part.said.push({ ...moment, said, staff, voice });
  }

  #harmony(node: XmlNode): void {
    const chord = readHarmony(node, this.part.transpose, this.#where, this.#report);
    if (chord !== undefined) {
      this.part.chords.push({ ...this.#moment(node, this.#offset(node)), chord });
    }
  }

  #note(node: XmlNode): void {
    const joins = child(node, 'chord') !== undefined;
    if (child(node, 'grace')) this.#grace(node, joins);
    else if (joins) {
      if (this.#last && !child(node, 'cue')) this.#chordNote(node, this.#last);
    } else this.#mainNote(node);
  }

  #grace(node: XmlNode, joins: boolean): void {
    const pitch = child(node, 'pitch');
    if (child(node, 'cue') || !pitch) return;
    const name = readPitch(pitch, this.part.transpose, this.#where, this.#report);
    this.#graces.add(node, textOf(node, 'voice') || '1', name, joins);
  }

  #chordNote(node: XmlNode, into: ReadNote): void {
    this.#pitch(node, into);
    into.lyrics.push(...readLyrics(node));
    readNotations(node, into);
  }

  #pitch(node: XmlNode, into: ReadNote): void {
    const pitch = child(node, 'pitch');
    if (!pitch) {
      if (child(node, 'unpitched')) this.part.unpitched += 1;
      return;
    }
    const name = readPitch(pitch, this.part.transpose, this.#where, this.#report);
    if (name === null || into.pitches.some((each) => each.name === name)) return;
    into.pitches.push({ name, finger: readFinger(node), tied: isTied(node) });
  }

  #mainNote(node: XmlNode): void {
    this.#last = null;
    const per = this.#perDivision(node);
    if (per === null) return;
    const rest = child(node, 'rest');
    const wholeMeasure = rest?.attributes['measure'] === 'yes';
    if (wholeMeasure && !child(node, 'duration')) this.#addRest(node, 0);
    else {
      const length = readLength(node, QUARTER / per, this.#where, this.#report);
      if (length === null) return;
      if (child(node, 'cue')) {
        this.part.cues += 1;
        this.#advance(length);
      } else if (wholeMeasure && this.#cursor === 0) this.#addRest(node, length);
      else this.#addNote(node, length);
    }
  }

  /** A rest for the whole measure: how long it says it is counts only where nothing else is there. */
  #addRest(node: XmlNode, length: Ticks): void {
    this.part.notes.push({ ...this.#newNote(node, length), wholeMeasure: true });
    this.#measure.restExtent = Math.max(this.#measure.restExtent, length);
    this.#cursor += length;
  }

  #newNote(node: XmlNode, length: Ticks): ReadNote {
    return newNote(node, { measure: this.part.measures.length - 1, at: this.#cursor, length });
  }

  #addNote(node: XmlNode, length: Ticks): void {
    const note = this.#newNote(node, length);
    this.#pitch(node, note);
    const silent = !child(node, 'rest') && note.pitches.length === 0;
    if (note.pitches.length > 0) {
      note.lyrics.push(...readLyrics(node));
      this.#graces.leadTo(note);
    }
    if (!silent) {
      this.part.notes.push(note);
      this.#last = note;
    }
    this.#advance(length);
    this.#measure.hasPitches ||= note.pitches.length > 0;
    this.#measure.sounds = Math.max(this.#measure.sounds, this.#cursor);
  }
}
