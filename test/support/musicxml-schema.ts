import { readFileSync } from 'node:fs';
import { validateXML } from 'xmllint-wasm';

const folder = new URL('../reference/musicxml-4.0/', import.meta.url);
const file = (fileName: string) => ({
  fileName,
  contents: readFileSync(new URL(fileName, folder), 'utf8'),
});
const schema = file('musicxml.xsd');
const imports = [file('xlink.xsd'), file('xml.xsd')];

/** What the W3C's schema of MusicXML 4.0 says against some files (libxml2, no network); empty: all are valid. */
export async function schemaErrors(files: Readonly<Record<string, string>>): Promise<string[]> {
  const { errors } = await validateXML({
    xml: Object.entries(files).map(([fileName, contents]) => ({ fileName, contents })),
    schema,
    preload: imports,
    initialMemoryPages: 1024,
    maxMemoryPages: 4096,
    modifyArguments: (args) => ['--nonet', ...args],
  });
  return errors.map(
    ({ message, loc }) => `${loc?.fileName ?? ''}:${loc?.lineNumber ?? ''} ${message}`,
  );
}
