import type { Problem, Result } from '../../../result.ts';
import { success } from '../../../result.ts';
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
  const failed = (): Result<Score> => ({ ok: false, problems: problemsOf(report) });
  if (text === null) return failed();
  const header = new HeaderReader();
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
  const score = assemble(
    [...readers.values()].map(({ part }) => part),
    header,
    report,
  );
  if (!score || report.problems.length > 0) return failed();
  return success(score, report.warnings);
}

/** All problems; and the warnings that say what else is wrong, as in ABC. */
function problemsOf(report: Report): readonly Problem[] {
  const reservations = report.warnings.filter(({ code }) => !/^(info|guess)-/.test(code));
  return [...report.problems, ...reservations];
}
