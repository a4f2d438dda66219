/**
 * The secret of a set link stands in the fragment of its address, which no browser sends to a server (RFC 9110, 4.2.4
 * and 7.1). It is taken out of the address bar before anything is asked, so that it stays in no history and on no
 * picture of the screen.
 */
let taken: { readonly link: string; readonly secret: string } | null = null;
let tell: () => void = () => undefined;

/** `/s/abc#secret` */
const SET_LINK = /^\/s\/([^/]+)\/?$/;

function take(): boolean {
  const link = SET_LINK.exec(location.pathname)?.[1];
  const secret = location.hash.slice(1);
  if (link === undefined || secret === '') return false;
  taken = { link: decodeURIComponent(link), secret };
  history.replaceState(history.state, '', location.pathname + location.search);
  return true;
}

take();
// The same link opened again in the same tab changes the fragment alone.
addEventListener('hashchange', () => {
  if (take()) tell();
});

/** The secret that came with the address of this link, once; null: none did. */
export function takeSecret(link: string): string | null {
  if (taken?.link !== link) return null;
  const { secret } = taken;
  taken = null;
  return secret;
}

/** Who is told when a link is opened again while its page stands. */
export function onSecret(told: () => void): () => void {
  tell = told;
  return () => {
    tell = () => undefined;
  };
}
