import { strToU8, zipSync } from 'fflate';

/** MusicXML 4.0, "Compressed .mxl files": the first file says what the archive is, and is not compressed. */
const MIME = 'application/vnd.recordare.musicxml';
const CONTAINER = `<?xml version="1.0" encoding="UTF-8"?>
<container>
  <rootfiles>
    <rootfile full-path="score.musicxml" media-type="${MIME}+xml"/>
  </rootfiles>
</container>
`;
/** The first day that a zip can say, in whatever time zone: the same score is the same file. */
const UNDATED = '1980-01-01T00:00:00';

/** A written score in its archive. */
export function packed(xml: string): Uint8Array {
  return zipSync(
    {
      mimetype: [strToU8(MIME), { level: 0 }],
      'META-INF/container.xml': strToU8(CONTAINER),
      'score.musicxml': [strToU8(xml), { level: 9 }],
    },
    { mtime: UNDATED },
  );
}
