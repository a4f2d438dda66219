import { success, type Result } from '../result.ts';
import { symbolIn } from '../pitch/chord-symbol.ts';
import { sameKey, sayKey, type Key } from '../pitch/key.ts';
import type { NamedNotes } from '../pitch/note-names.ts';
import { says as saysIn, type Says } from '../pitch/says.ts';
import type { PlayedKey } from '../hand/played-key.ts';
import {
  isFromFile,
  type ArrangedPass,
  type Arrangement,
  type Player,
  type Texture,
} from '../parts/arrangement.ts';
import { ENDING_IN_WORDS } from '../parts/form/endings.ts';
import { besideLinkIn, isWordsOnly } from '../parts/laid-out.ts';
import { besideLink, intoNext, linkName } from '../parts/link/link-words.ts';
import { sayLoop } from '../parts/form/loop-words.ts';
import { leadOf } from '../parts/form/pass-leads.ts';
import { onPage } from '../parts/form/raised.ts';
import { sayStep } from '../parts/form/raised-words.ts';
import { sayWhose } from '../parts/role-words.ts';
import type { Chord } from '../pitch/chord.ts';
import { listed } from '../score/number-words.ts';
import type { Score } from '../score/score.ts';
import { sungPasses, type SungPass } from '../score/sung-lines.ts';
import { countedTempo, keyAt } from '../score/time.ts';
import { calledIn, tempoOf, type SheetHeading } from './sheet.ts';
import { layFor, type Laid } from './words-laid.ts';
import { lineOf } from './words-line.ts';
import type { ChordOver, WordsPass, WordsPiece, WordsSheet } from './words-sheet.ts';

export { isWordsOnly } from '../parts/laid-out.ts';

export interface WordsSheetOptions {
  /** How this player reads it in another key; missing or null: as it sounds. */
  readonly played?: PlayedKey | null;
  /** Who leads the singing where a pass names nobody, by name. */
  readonly names?: { readonly lead?: string | null };
  /** It stands on the page already why nothing is written as notes; of a song without chords that says all. */
  readonly isExplained?: boolean;
}

/**
 * Words with the chords over their syllables, every pass of the form in order, for whoever sings and plays by the chord.
 * Timed songs come with their introduction and the chords at the arrangement's density; a pass whose words and chords
 * stand on the page already is printed by its name alone.
 * @param arrangement `key` is the one that sounds
 */
export function of(
  score: Score,
  arrangement: Arrangement,
  player: Pick<Player, 'name' | 'role' | 'names'>,
  { played = null, names, isExplained = false }: WordsSheetOptions = {},
): Result<WordsSheet> {
  const sounding = { ...arrangement, key: played?.sounds ?? arrangement.key };
  const found = layFor(score, sounding, saysIn(player.names));
  if (!found.ok) return found;
  const laid = found.value;
  const chords = chordNames(laid.score, played, player.names ?? 'english');
  const passes = sungPasses(laid.score);
  return success({
    heading: {
      ...headingOf(laid, player, played),
      ...(isFromFile(arrangement) && laid.score.tempo && { tempoFrom: 'file' }),
    },
    order: laid.order,
    passes: [
      ...printed(passes, chords, laid, {
        played,
        usual: names?.lead ?? null,
        names: player.names,
      }),
      ...linkPass(laid, played, player.names ?? 'english'),
    ],
    remarks: remarksOn(laid.score, passes, isExplained),
    cautions: [],
    credits: creditsOf(score),
  });
}

/** Of a song without time, which has no bars: the chords that lead on, one after another. */
function linkPass({ link, score }: Laid, played: PlayedKey | null, names: NamedNotes): WordsPass[] {
  if (!link || !score.untimed || link.way.chords.length === 0) return [];
  const [first] = score.chords;
  const chords = link.way.chords.map((chord) => ({ at: first?.at ?? 0, length: 1, chord }));
  const bare = { ...score, keys: score.keys.slice(0, 1), chords };
  const pieces = chordNames(bare, played, names).map((chord, i): WordsPiece => ({
    chord,
    text: '',
    goesOn: false,
    ...(i > 0 && { bar: true }),
  }));
  return [
    {
      name: linkName(link, saysIn(names)),
      directions: [...besideLink(link, false), ...intoNext(link)],
      lines: [{ pieces }],
    },
  ];
}

function headingOf(
  { score, countIn }: Laid,
  { name, role, names }: Pick<Player, 'name' | 'role' | 'names'>,
  played: PlayedKey | null,
): SheetHeading {
  const meter = score.meters[0]?.meter;
  const key = isWordsOnly(score) ? undefined : (played?.plays ?? score.keys[0]?.key);
  const time = score.facts.other.find(([label]) => score.untimed && label === 'time')?.[1] ?? '';
  return {
    title: score.facts.title,
    rubric: sayWhose(role, 'words with chords', name),
    key: key ? sayKey(key) : '',
    ...calledIn(names, key),
    meter: !meter || meter.beats === null ? time : `${meter.beats}/${meter.unit}`,
    tempo: tempoOf(meter ? countedTempo(meter, score.tempo) : score.tempo),
    countIn,
    ...(played && { played: { words: played.words, reminder: played.reminder } }),
  };
}

const nameOf = (chord: Chord | null, names: NamedNotes, key: Key): string =>
  chord === null ? 'N.C.' : symbolIn(chord, names, key);

/** The name of each chord of the score, as it is played and as it sounds; as a number it is the same in both keys. */
function chordNames(score: Score, played: PlayedKey | null, names: NamedNotes): ChordOver[] {
  const named = (each: Score): string[] =>
    each.chords.map(({ chord, at }) => nameOf(chord, names, keyAt(each, at).key));
  const sounds = named(score);
  if (!played) return sounds.map((name) => ({ name, sounds: null }));
  const shapes = named(onPage(score, played.plays));
  return sounds.map((sound, i): ChordOver => {
    const name = shapes[i] ?? sound;
    return { name, sounds: name === sound ? null : sound };
  });
}

/** How a pass is played, in a rubric. */
const TEXTURES: Readonly<Record<Texture, string>> = {
  held: 'held',
  answered: 'answered',
  leading: 'leading on',
  'every beat': 'on every beat',
  swaying: 'swaying',
  broken: 'broken',
};

function printed(
  passes: readonly SungPass[],
  chords: readonly ChordOver[],
  { score, introduction, link }: Laid,
  {
    played,
    usual,
    names,
  }: {
    readonly played: PlayedKey | null;
    readonly usual: string | null;
    readonly names: NamedNotes | undefined;
  },
): WordsPass[] {
  const page = played ? onPage(score, played.plays) : score;
  const says = saysIn(names);
  const before = new Set<string>();
  return passes.map((pass, i): WordsPass => {
    const isIntroduction = i === 0 && introduction !== null;
    const lines = pass.lines.map((line) => lineOf(line, chords, score));
    const sign = `${pass.name}\n${JSON.stringify(lines)}`;
    const isAgain = before.has(sign);
    before.add(sign);
    const { texture, ending, unison } = pass.pass as ArrangedPass;
    const lead = leadOf(pass.pass, usual);
    const isSung = pass.lines.some((line) => line.some(({ text }) => text !== ''));
    const loop = sayLoop(page, pass.section, says);
    const directions = [
      ...newKey(page, passes[i - 1], pass, says),
      ...besideLinkIn({ link, whole: score }, pass.section),
      ...(loop ? [loop] : []),
      ...(isIntroduction ? [`${introduction}; the singers rest`] : []),
      ...(texture ? [TEXTURES[texture]] : []),
      ...(lead && isSung ? [`${lead} leads`] : []),
      ...(unison && isSung ? ['everybody sings the tune'] : []),
      ...(ending ? [ENDING_IN_WORDS[ending]] : []),
    ];
    return { name: nameIn(page, pass, says), directions, lines: isAgain ? [] : lines };
  });
}

/** `Verse 5`; of a pass in another key than the song’s `Verse 5, in G major`, as a sheet with notes names its copy. */
const nameIn = (score: Score, { name, section }: SungPass, says: Says): string =>
  section.up ? `${name}, in ${says.key(keyAt(score, section.from).key)}` : name;

/** `now in E major`, where a pass begins in another key than the one before it ended in. */
function newKey(score: Score, before: SungPass | undefined, pass: SungPass, says: Says): string[] {
  const step = sayStep(score, before, pass, says);
  if (step !== '') return [step];
  const [from, to] = [before?.lines.at(-1)?.at(-1), pass.lines[0]?.[0]];
  if (!from || !to || before?.isText === true || pass.isText) return [];
  const [last, next] = [keyAt(score, from.at).key, keyAt(score, to.at).key];
  return sameKey(last, next) ? [] : [`now in ${says.key(next)}`];
}

/** What the song does not say, in words, so that nobody looks for it. */
function remarksOn(score: Score, passes: readonly SungPass[], isExplained: boolean): string[] {
  const names = (which: (pass: SungPass) => boolean): string[] => [
    ...new Set(passes.filter(which).map(({ name }) => name)),
  ];
  const has = (pass: SungPass): boolean =>
    pass.lines.some((line) => line.some(({ chord }) => chord !== null));
  const text = names(({ isText }) => isText);
  const bare = names((pass) => !pass.isText && pass.lines.length > 0 && !has(pass));
  const played = passes.filter(has);
  const remarks: string[] = [];
  if (score.chords.length === 0) {
    if (!isExplained)
      remarks.push(
        'This song has no chords, and none can be found in it: only its words stand here.',
      );
  } else if (bare.length > 0) {
    const model = played.find(({ section }) => section.kind === 'verse') ?? played[0];
    const like = model ? `; ${model.name} has` : '';
    remarks.push(`${listed(bare)} ${bare.length === 1 ? 'has' : 'have'} no chords of ${bare.length === 1 ? 'its' : 'their'} own${like}.`); // prettier-ignore
  }
  if (text.length > 0 && score.chords.length > 0) {
    remarks.push(`The words of ${listed(text)} do not stand under the notes of this song, so no chords stand over them: sing and play them like the verses before.`); // prettier-ignore
  }
  return remarks;
}

function creditsOf({ facts }: Score): string[] {
  return [...facts.credits, ...(facts.rights ? [facts.rights] : [])];
}
