import { tonesOf } from '../../pitch/chord-symbol.ts';
import type { Chord } from '../../pitch/chord.ts';
import { intervalUp, sayInterval } from '../../pitch/interval.ts';
import { midiOf, noteOf, pitchClassOf, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import { ENGLISH, says as saysIn, type Says } from '../../pitch/says.ts';
import { passesOf, type NamedPass } from '../../score/form.ts';
import type { Score, Section } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import type { FitRow } from '../../voice/fit-row.ts';
import type { Octave, Range } from '../../voice/range.ts';
import { sayBeats, sayDistance } from '../../voice/say-beats.ts';
import { of as tessituraOf } from '../../voice/tessitura.ts';
import type { Player, Team, Texture } from '../arrangement.ts';
import { sayIntroductionBars } from '../form/introduction.ts';
import type { LaidOut } from '../laid-out.ts';
import { sayLoop } from '../form/loop-words.ts';
import type { PartDirection } from '../part.ts';
import { leadLines, leadOfAll } from '../form/pass-leads.ts';
import { playedChords } from '../played-chords.ts';
import { sounding, type VoiceStretch } from './singer-stretches.ts';
import { sayEndingToSingers } from '../form/endings.ts';
import { alikeIn, namePasses, textureOf } from '../form/textures.ts';
import { sayUnison } from './unison.ts';

/** More stretches than this are no longer a place to begin. */
const MOST = 2;
/** Steps of the scale above the root → how a note of a chord is called. */
const DEGREES = ['root', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh'] as const;

/** `the fifth of G`. */
function sayTone(tone: NoteName, chord: Chord, says: Says): string {
  return `the ${DEGREES[intervalUp(chord.root, tone).steps % 7] ?? 'root'} of ${says.chord(chord)}`;
}

/** How a note stands to a chord: `the fifth of G`; of a note that is none of its tones `a step above B, the third of G`. */
function sayInChord(pitch: PitchName, chord: Chord, says: Says): string {
  const note = noteOf(pitch);
  const tones = tonesOf(chord);
  const own = tones.find((tone) => pitchClassOf(tone) === pitchClassOf(note));
  if (own) return sayTone(own, chord, says);
  const below = [...tones].sort(
    (a, b) => intervalUp(a, note).semitones - intervalUp(b, note).semitones,
  )[0];
  if (!below) return says.chord(chord);
  return `${sayInterval(intervalUp(below, note))} above ${says.note(below)}, ${sayTone(below, chord, says)}`;
}

/** How the introduction leads to the first note, and how to find it in the chord before. */
export function sayFirstNote(
  { song, introduction, whole, length, count }: LaidOut,
  octave: Octave,
  says: Says = ENGLISH,
): string {
  const note = melodyOf(song).notes.find(({ pitches }) => pitches.length > 0);
  const written = note?.pitches.at(-1);
  const where = sayIntroductionBars(song, introduction);
  if (!note || !written) return `${where}; nobody sings in this song`;
  const pitch = sounding(written, octave);
  const name =
    pitch === written ? says.note(pitch) : `${says.note(pitch)}, written ${says.note(written)}`;
  const before = Math.max(1, length + note.at);
  const chords = playedChords(whole);
  const chord = (chords.findLast(({ at }) => at < before) ?? chords[0])?.chord;
  const tones = chord ? tonesOf(chord).map(says.note).join(' ') : '';
  const when = length + note.at > (chords[0]?.at ?? 0) ? 'the chord before it' : 'the first chord';
  const found = chord
    ? `, ${sayInChord(pitch, chord, says)}; ${when} is ${says.chord(chord)} (${tones})`
    : '';
  const entry = introduction.spans.length > 0 ? count.entry : '';
  return [where, entry, `first note: ${name}${found}`].filter((words) => words !== '').join('; ');
}

/** Without a known voice: `The tune goes from D4 to D5, half of its time between G4 and B4.` */
export function sayTune(song: Score, says: Says = ENGLISH): string {
  const tune = tessituraOf(song);
  if (!tune) return 'Nobody sings in this song.';
  const [low, high, q1, q3] = [tune.low, tune.high, tune.q1, tune.q3].map(says.note);
  const half = q1 === q3 ? `half of its time on ${q1}` : `half of its time between ${q1} and ${q3}`;
  return `The tune goes from ${low} to ${high}, ${half}.`;
}

/** `bar 7`, `bars 7 and 8`, `bars 7 to 9`. */
function sayBars({ notes }: VoiceStretch): string {
  const bars = [...new Set(notes.map(({ bar }) => bar))];
  const [first, last] = [bars[0] ?? 0, bars.at(-1) ?? 0];
  if (last === 0) return 'the pickup';
  if (first === 0) return `the pickup and bar ${last}`;
  if (first === last) return `bar ${first}`;
  return `bars ${first} ${last === first + 1 ? 'and' : 'to'} ${last}`;
}

function sayEnd({ furthest, side }: VoiceStretch, range: Range, says: Says): string {
  const edge = range[side];
  const [end, out, back] =
    side === 'high' ? ['highest', 'above', 'below'] : ['lowest', 'below', 'above'];
  const far = midiOf(furthest) - midiOf(edge);
  if (far === 0) return `the ${end} that sits easily`;
  const way = (side === 'high' ? far > 0 : far < 0) ? out : back;
  return `${sayDistance(far)} ${way} ${says.note(edge)}, the ${end} that sits easily`;
}

/** What to leave alone, then what to practise: what lies outside the range before what lies at its ends, the longest first. */
export function practiceVoice(
  stretches: readonly VoiceStretch[],
  range: Range,
  says: Says = ENGLISH,
): string[] {
  const hardest = [...stretches].sort(
    (a, b) => Number(b.outside) - Number(a.outside) || b.felt - a.felt,
  );
  return hardest.slice(0, MOST).map((stretch, place) => {
    const way = stretch.side === 'high' ? 'up to' : 'down to';
    const words = `${sayBars(stretch)}, ${stretch.side} for ${sayBeats(stretch.felt)}, ${way} ${says.note(stretch.furthest)}, ${sayEnd(stretch, range, says)}.`;
    // Nobody practises what lies outside their voice: more of it only hurts.
    if (stretch.outside)
      return `${place === 0 ? 'Do not push' : 'Nor'} ${words}${place === 0 ? ` ${INSTEAD}` : ''}`;
    return isFirst(hardest, place)
      ? `Practise first: ${words} Softly, and stop before it strains.`
      : `Then: ${words}`;
  });
}

/** Whether it is the first of those that may be practised. */
const isFirst = (stretches: readonly VoiceStretch[], place: number): boolean =>
  stretches.findIndex(({ outside }) => !outside) === place;

const INSTEAD = 'Leave such notes out or sing them an octave lower; another key may sit better.';

/** How full singers are beside what the players play; `leading` and `held` say something else to them. */
const FULLNESS: Readonly<Record<Texture, string>> = {
  held: 'softly',
  answered: 'fuller',
  leading: 'fuller',
  'every beat': 'full voice',
  swaying: 'full voice',
  broken: 'full voice',
};

/** The passes through a section that are sung alike, in the order they first come. */
function fullnessIn(passes: readonly NamedPass[], section: Section): Map<string, NamedPass[]> {
  const groups = new Map<string, NamedPass[]>();
  for (const each of passes) {
    if (each.section.id !== section.id) continue;
    const full = FULLNESS[textureOf(each.pass)];
    groups.set(full, [...(groups.get(full) ?? []), each]);
  }
  return groups;
}

/** Beside each section: who leads (once, or by pass where that differs), where the voice reads another octave, and how full to sing. */
export function voiceDirections(
  song: Score,
  row: FitRow | null,
  player: Player,
  team: Team,
): PartDirection[] {
  const passes = passesOf(song);
  const builds = passes.some(({ pass }) => textureOf(pass) !== 'held');
  const usual = team.lead ?? null;
  const { differs, lead } = leadOfAll(song, usual);
  const sayLead = (name: string) => (name === player.name ? 'you lead' : `${name} leads`);
  let said = '';
  const unison = team.roles.includes('harmony voice')
    ? sayUnison(song, player.role === 'harmony voice')
    : () => [];
  return song.sections.map((section, place) => {
    const words: string[] = differs ? leadLines(song, section, usual, sayLead) : [];
    if (place === 0 && lead) words.push(sayLead(lead));
    words.push(...unison(section));
    if (section.kind === 'vamp') words.push(sayLoop(song, section, saysIn(player.names)));
    const octave = row?.perSection.find((each) => each.section === section.id)?.octave;
    const reads = octave === 'octave below' ? 'sing an octave lower than written' : '';
    if (reads !== said) words.push(reads === '' ? 'sing as written' : reads);
    if (octave !== undefined) said = reads;
    for (const [full, own] of builds ? fullnessIn(passes, section) : []) {
      words.push(`${namePasses(own).toLocaleLowerCase()}: ${full}`);
    }
    for (const { ending, passes: own } of alikeIn(passes, section)) {
      if (ending === null) continue;
      words.push(
        `${namePasses(own).toLocaleLowerCase()}, ${sayEndingToSingers(song, section, ending)}`,
      );
    }
    return { section: section.id, words };
  });
}

/** Why nothing is marked, and how to change that. */
export function sayNoVoice(name: string): string {
  return `It is not known where ${name}’s voice sits easily, so nothing is marked high or low: mark the lowest and the highest easy note under People, or on the page that the link opens.`;
}
