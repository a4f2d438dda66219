import type { SongFacts } from '../../score/score.ts';
import type { Smf } from './smf.ts';

/**
 * What a file says in words: the name of the first track is that of the song (RP-001) unless it is the track of a voice; the
 * copyright notice; the texts of the first track.
 */
export function factsOf(smf: Smf): SongFacts {
  const [first] = smf.tracks;
  const texts = first?.texts ?? [];
  const isHead = smf.format === 0 || (first?.notes.length ?? 0) === 0;
  const name = isHead ? texts.find(({ kind }) => kind === 'name') : undefined;
  const rights = smf.tracks
    .flatMap(({ texts: all }) => all)
    .filter(({ kind }) => kind === 'copyright')
    .map(({ text }) => plain(text))
    .filter((text) => text !== '');
  const other = (isHead ? texts : [])
    .filter(({ kind, at }) => kind === 'text' && at === 0)
    .map(({ text }): readonly [string, string] => ['text', plain(text)])
    .filter(([, text]) => text !== '');
  return {
    title: plain(name?.text ?? ''),
    subtitles: [],
    tune: null,
    hymnMeter: null,
    credits: [],
    rights: rights.length === 0 ? null : [...new Set(rights)].join(' '),
    source: null,
    other: other.slice(0, 50),
  };
}

/** Without control characters; a notice is not longer than a page. */
function plain(text: string): string {
  return text
    .replace(/\p{Cc}+/gu, ' ')
    .trim()
    .slice(0, 4000);
}
