/** Letters that some system takes for more than a letter of a name. */
const UNSAFE = /[\p{Cc}\p{Cs}<>:"/\\|?*]/gu;
const LONGEST = 80;
/** Names that Windows keeps for devices. */
const KEPT = /^(con|prn|aux|nul|com\d|lpt\d)$/i;

/** Names of folders, each once, whatever the titles are and however a system compares letters. */
export class FolderNames {
  readonly #taken = new Set<string>();

  for(title: string): string {
    const plain = title.normalize('NFC').replaceAll(UNSAFE, ' ').replaceAll(/\s+/g, ' ');
    const short = [...plain]
      .slice(0, LONGEST)
      .join('')
      .replaceAll(/^[\s.]+|[\s.]+$/g, '');
    const name = short === '' || KEPT.test(short) ? `Song ${short}`.trim() : short;
    for (let count = 1; ; count += 1) {
      const each = count === 1 ? name : `${name} (${count})`;
      const key = each.toLowerCase();
      if (this.#taken.has(key)) continue;
      this.#taken.add(key);
      return each;
    }
  }
}
