/** Characters that some system takes for more than a letter of a name. */
const UNSAFE = /[\p{Cc}\p{Cs}<>:"/\\|?*]/gu;

/** RFC 8187, 3.2.1: what `encodeURIComponent` leaves and an extended value may not have. */
const LEFT = /['()*!]/g;
const percent = (letter: string): string =>
  `%${letter.charCodeAt(0).toString(16).toUpperCase().padStart(2, '0')}`;

/**
 * Content-Disposition of a file to keep: the name as people wrote it, without what no file may be called, and a plain twin
 * for programs that know no other letters (RFC 6266, 4.3 and appendix D; RFC 8187).
 */
export function asFile(name: string): string {
  const safe = name.replaceAll(UNSAFE, ' ').replaceAll(/\s+/g, ' ').trim();
  const letters = safe
    .normalize('NFKD')
    .replaceAll(/[^\w .()-]/g, '')
    .trim();
  const plain = letters.startsWith('.') ? `song${letters}` : letters;
  const exact = encodeURIComponent(safe).replaceAll(LEFT, percent);
  return `attachment; filename="${plain}"; filename*=UTF-8''${exact}`;
}
