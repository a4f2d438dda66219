import type { Key } from '../../pitch/key.ts';
import type { Problem } from '../../result.ts';
import type { SongFacts, Tempo } from '../../score/score.ts';
import { keyIn, tempoIn, type Fact } from './facts.ts';
import type { KnownLine } from './line.ts';

export interface Facts {
  readonly song: SongFacts;
  readonly key: Key | null;
  readonly tempo: Tempo | null;
  /** Where the song itself begins. */
  readonly firstLine: number;
}

/** A song is known by its first words where it has no title. */
const MOST_OF_TITLE = 60;

function titleFrom(lines: readonly KnownLine[]): string {
  const line = lines.find(({ as, sung }) => as === 'words' && sung.length > 0);
  const words = line?.sung.map(({ text }) => text.replaceAll('_', '')).join(' ') ?? '';
  const title = words.replace(/[,.;:!?]+$/u, '').slice(0, MOST_OF_TITLE);
  return title === '' ? 'A song without words' : title;
}

/** What the lines over a song say about it. */
export function gatherFacts(lines: readonly KnownLine[], warn: (problem: Problem) => void): Facts {
  let title: string | null = null;
  let tune: string | null = null;
  let rights: string | null = null;
  let key: Key | null = null;
  let tempo: Tempo | null = null;
  const subtitles: string[] = [];
  const credits: string[] = [];
  const other: (readonly [string, string])[] = [];
  const keep = ({ label, text }: Fact): void => {
    other.push([label.toLowerCase(), text]);
  };
  const firstSung = lines.find(({ as, names }) => as === 'chords' || as === 'words' || names === 'section'); // prettier-ignore
  const firstLine = firstSung?.line ?? 1;
  for (const { fact, line } of lines) {
    if (!fact) continue;
    const { kind, label, text } = fact;
    if (kind === 'title') {
      if (title === null) title = text;
      else subtitles.push(text);
    } else if (kind === 'subtitle') subtitles.push(text);
    else if (kind === 'tune') tune = text;
    else if (kind === 'rights') rights = rights === null ? text : `${rights} ${text}`;
    else if (kind === 'credit') credits.push(label === '' ? text : `${label}: ${text}`);
    else if (kind === 'key') {
      const read = keyIn(fact);
      if (!read) {
        const message = `“${text.slice(0, 40)}” is no key that is understood; one looks like F, Bb or F# minor.`;
        warn({ code: 'key-unreadable', message, line });
        keep(fact);
      } else if (line < firstLine) key = read;
    } else if (kind === 'names') {
      // It says how this text calls its chords; the song has them under no name but their own.
    } else if (kind === 'tempo' && tempoIn(fact)) tempo = tempoIn(fact);
    else keep(kind === 'time' ? { ...fact, label: 'time' } : fact);
  }
  if (title === null) {
    title = titleFrom(lines);
    const message = `No title stands over the song; “${title}” is taken for it.`;
    warn({ code: 'guess-title', message, line: firstLine });
  }
  return {
    song: {
      title,
      subtitles,
      tune,
      hymnMeter: null,
      credits,
      rights,
      source: null,
      other,
    },
    key,
    tempo,
    firstLine,
  };
}
