import type { Page } from 'playwright-core';
import { ChordSymbol } from '#music';
import type { Song } from '#server/contract/songs.ts';
import type { RunningApp } from './running-app.ts';

/** Saving waits for a pause in writing. */
export const SOON = { timeout: 15_000 };

/** A song as it is put in. */
export interface SongText {
  readonly format: 'abc' | 'words';
  readonly text: string;
}

export async function songs({ address }: RunningApp): Promise<Song[]> {
  const list = (await (await fetch(`${address}/api/songs`)).json()) as { songs: Song[] };
  return Promise.all(
    list.songs.map(
      async ({ id }) => (await (await fetch(`${address}/api/songs/${id}`)).json()) as Song,
    ),
  );
}

export async function inBook(app: RunningApp, title: string): Promise<Song> {
  const found = (await songs(app)).find((song) => song.score.facts.title === title);
  if (!found) throw new Error(`the book has no ${title}`);
  return found;
}

export async function made({ address }: RunningApp, song: SongText): Promise<Song> {
  const response = await fetch(`${address}/api/songs`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(song),
  });
  return (await response.json()) as Song;
}

/** The pitches of the tune with their lengths in quarters. */
export const tuneOf = ({ score }: Song): string[] =>
  score.voices
    .find(({ id }) => id === score.melody)
    ?.notes.flatMap(({ pitches, length }) =>
      pitches.length > 0 ? [`${pitches.join('+')} ${length / 20160}`] : [],
    ) ?? [];

/** The chords with their places in quarters. */
export const chordsOf = ({ score }: Song): string[] =>
  score.chords.map(({ at, chord }) => `${chord ? ChordSymbol.write(chord) : 'N.C.'} ${at / 20160}`);

/** Keys one after the other, with a space between them. */
export async function press(page: Page, keys: string): Promise<void> {
  for (const key of keys.split(' ')) await page.keyboard.press(key);
}

export const saved = (page: Page): Promise<void> =>
  page.locator('.saved').getByText('Saved', { exact: true }).waitFor();
