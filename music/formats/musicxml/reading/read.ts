import type { Problem, Result } from '../../../result.ts';
import { success } from '../../../result.ts';
import { check } from '../../../score/check-score.ts';
import type { Score } from '../../../score/score.ts';
import { newReport, type Report } from '../../report.ts';
import { isZip, scoreInArchive } from './archive.ts';
import { assemble } from './assemble.ts';
import { HeaderReader } from './header-reader.ts';
import { PartReader } from './part-reader.ts';
import { readScoreXml } from './score-xml.ts';
import { xmlText } from './xml-text.ts';

/** The text of a score, whatever way it comes; null where there is none (the report says why). */
function textOf(input: string | Uint8Array, report: Report): string | null {
  if (typeof input === 'string') return input.startsWith('\uFEFF') ? input.slice(1) : input;
  return isZip(input) ? scoreInArchive(input, report) : xmlText(input, report);
}

/** A score from MusicXML: see the door, `musicxml.ts`. */
export function readScore(input: string | Uint8Array): Result<Score> {
  const report = newReport();
  const text = textOf(input, report);
  if (text === null) return { ok: false, problems: problemsOf(report) };
  const header = new HeaderReader();
  const first = readText(text, header, report);
  if (!first.ok || check(first.value).length === 0) return first;
  // Somebody has changed the notes beside what our own writer noted of them.
  const plain = new HeaderReader();
  plain.ignoresOwn = true;
  const again = newReport();
  const second = readText(text, plain, again);
  if (!second.ok) return second;
  const [broken] = check(second.value);
  if (broken) {
    const message = `This score is more than a song can hold: ${broken.message}`;
    return { ok: false, problems: [{ code: 'more-than-a-song', message, line: 1 }] };
  }
  const message =
    'What the file notes of its sections and its order no longer fits its notes; it is left out.';
  const warning: Problem = { code: 'own-field-odd', message, line: 1 };
  return success(second.value, [...second.warnings, warning]);
}

function readText(text: string, header: HeaderReader, report: Report): Result<Score> {
  const failed = (): Result<Score> => ({ ok: false, problems: problemsOf(report) });
  const readers = new Map<string, PartReader>();
  const whole = readScoreXml(
    text,
    {
      head: (node) => {
        header.read(node);
      },
      measure: (id, _index, attributes, content) => {
        let reader = readers.get(id);
        if (!reader) {
          const name = header.partNames.get(id)?.trim() || `part ${id}`;
          reader = new PartReader(id, name, report);
          readers.set(id, reader);
        }
        reader.measure(attributes, content);
      },
    },
    report,
  );
  if (!whole) return failed();
  for (const reader of readers.values()) reader.finish();
  const parts = [...readers.values()].map(({ part }) => part);
  const score = assemble(parts, header, report);
  return score && report.problems.length === 0 ? success(score, report.warnings) : failed();
}

/** All problems; and the warnings that say what else is wrong, as in ABC. */
function problemsOf(report: Report): readonly Problem[] {
  const reservations = report.warnings.filter(({ code }) => !/^(info|guess)-/.test(code));
  return [...report.problems, ...reservations];
}
