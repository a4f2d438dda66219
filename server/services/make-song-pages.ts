import {
  EasierKeys,
  Parts,
  PlayedKeys,
  Sheets,
  WordsSheets,
  type Arrangement,
  type Part,
  type PageRequest,
  type PlayedKey,
  type Player,
  type Problem,
  type Result,
  type Role,
  type Score,
  type Team,
} from '#music';
import type { Page } from '../contract/pages.ts';
import type { PlainPage } from '../contract/person-parts.ts';
import type { Renderer } from '../render/renderer.ts';
import { engrave } from './engrave.ts';

/** A song of the order, for one person. */
export interface SongPages {
  readonly item: string;
  readonly title: string;
  readonly score: Score;
  /** In the key that sounds. */
  readonly arrangement: Arrangement;
  /** A player for each page, in order. */
  readonly players: readonly Player[];
  readonly team: Team;
  /** The tonic it is read in where that is another; it counts for the roles whose instrument can do it. */
  readonly tonic: string | undefined;
  readonly page: PageRequest;
  /** Where the voice sits is not for whoever opens this: nothing is said of it, not even that it is not known. */
  readonly voiceIsPrivate: boolean;
}

/** Who follows the words with the chords over them, and not notes. */
const BY_WORDS: readonly Role[] = ['guitar', 'drums', 'leader'];

/** What this player could read more easily, where nobody chose a key for them. */
function offerFor({ tonic, arrangement, score }: Omit<SongPages, 'page'>, player: Player) {
  const offer =
    tonic === undefined && !WordsSheets.isWordsOnly(score)
      ? EasierKeys.easierKey(arrangement.key, player)
      : null;
  return offer ? { offer } : {};
}

function wordsPage(
  song: Omit<SongPages, 'page'>,
  player: Player,
  played: PlayedKey | null,
  remarks: readonly string[],
): PlainPage {
  const place = { item: song.item, title: song.title, role: player.role };
  const names = { lead: song.team.lead ?? null };
  const isExplained = remarks.length > 0;
  const written = WordsSheets.of(song.score, song.arrangement, player, { played, names, isExplained }); // prettier-ignore
  if (!written.ok) {
    const reason = remarks[0] ?? written.problems[0]?.message ?? 'There is no sheet for this song.';
    return { kind: 'none', ...place, reason };
  }
  const sheet = { ...written.value, remarks: [...remarks, ...written.value.remarks] };
  return { kind: 'words', ...place, played, ...offerFor(song, player), sheet };
}

/**
 * The part of one player of a song, in the key that they read.
 * @returns `built` null: they follow the words
 */
export function partOf(
  { score, arrangement, team, tonic }: Omit<SongPages, 'page'>,
  player: Player,
): { readonly played: PlayedKey | null; readonly built: Result<Part> | null } {
  const { role, instruments = {} } = player;
  const played =
    tonic === undefined || WordsSheets.isWordsOnly(score)
      ? null
      : PlayedKeys.of(arrangement.key, tonic, instruments, role);
  if (BY_WORDS.includes(role)) return { played, built: null };
  const key = played?.plays ?? arrangement.key;
  return { played, built: Parts.build(score, { ...arrangement, key }, player, team) };
}

/** A page of notes before it is engraved. */
export interface UnengravedPage {
  readonly kind: 'part';
  readonly item: string;
  readonly title: string;
  readonly role: Role;
  readonly played: PlayedKey | null;
  readonly offer?: PlayedKey;
  readonly part: Part;
  readonly player: Player;
  readonly remarks: readonly Problem[];
}
type Written = UnengravedPage | PlainPage;

/** One page; where the notes cannot be written out, the words with a remark that says why. */
function writePage(song: Omit<SongPages, 'page'>, player: Player): Written {
  const { played, built } = partOf(song, player);
  if (!built) return wordsPage(song, player, played, []);
  if (!built.ok)
    return wordsPage(
      song,
      player,
      played,
      built.problems.slice(0, 1).map(({ message }) => message),
    );
  const remarks = built.warnings.filter(({ code }) => !song.voiceIsPrivate || code !== 'no-voice');
  const place = {
    item: song.item,
    title: song.title,
    role: player.role,
    ...offerFor(song, player),
  };
  return { kind: 'part', ...place, played, part: built.value, player, remarks };
}

/** Words in the same key once are enough, for whatever they were asked. */
function isSaid(pages: readonly Written[], page: Written): boolean {
  if (page.kind !== 'words') return false;
  const tonic = page.played?.plays.tonic;
  return pages.some((each) => each.kind === 'words' && each.played?.plays.tonic === tonic);
}

/** The pages of one person for one song, in order, before they are engraved. */
export function writeSongPages(song: Omit<SongPages, 'page'>): Written[] {
  const pages: Written[] = [];
  for (const player of song.players) {
    const page = writePage(song, player);
    if (!isSaid(pages, page)) pages.push(page);
  }
  return pages;
}

/** The pages of one person for one song, in order, engraved one after another. */
export async function makeSongPages(song: SongPages, renderer: Renderer): Promise<Page[]> {
  const pages: Page[] = [];
  for (const page of writeSongPages(song)) {
    if (page.kind !== 'part') {
      pages.push(page);
      continue;
    }
    const { kind: _kind, part, player, remarks, ...place } = page;
    const engraved = await engrave(renderer, Sheets.request(part, song.page));
    const sheet = Sheets.of(part, player, song.page, engraved, remarks, page.played);
    pages.push({ kind: 'staff', ...place, sheet });
  }
  return pages;
}
