import { isIPv6 } from 'node:net';
import type { networkInterfaces } from 'node:os';

export type Interfaces = ReturnType<typeof networkInterfaces>;

export interface Listening {
  /** Address or name that the app listens at. */
  readonly host: string;
  readonly port: number;
  /** Origin that somebody set; null: none. */
  readonly publicAddress: string | null;
}

const EVERYWHERE = new Set(['0.0.0.0', '::']);
const OWN = /^(localhost|127\..*|::1)$/;
/** Bridges between programs of one machine; no telephone is in them (common names of Linux, macOS and Windows). */
const INNER = /^(docker|br-|veth|virbr|vboxnet|vmnet|utun|tun|tap|vEthernet)/i;

/** Home networks mostly have 192.168 (RFC 1918 names all three ranges; which is likelier is common practice). */
function unlikely(name: string, address: string): number {
  if (INNER.test(name)) return 9;
  if (address.startsWith('192.168.')) return 0;
  if (address.startsWith('10.')) return 1;
  if (/^172\.(1[6-9]|2\d|3[01])\./.test(address)) return 2;
  if (address.startsWith('169.254.')) return 8;
  return isIPv6(address) ? 4 : 3;
}

const originOf = (address: string, port: number): string =>
  `http://${isIPv6(address) ? `[${address}]` : address}:${port}`;

/** The origins under which other devices find the app, the likeliest first; none where it listens to itself only. */
export function findAddresses(
  { host, port, publicAddress }: Listening,
  interfaces: Interfaces,
): string[] {
  const first = publicAddress === null ? [] : [publicAddress];
  if (OWN.test(host)) return first;
  if (!EVERYWHERE.has(host)) return [...first, originOf(host, port)];
  const found = Object.entries(interfaces).flatMap(([name, addresses = []]) =>
    addresses
      .filter(({ internal, family, address }) => {
        if (internal || /^fe80:/i.test(address)) return false;
        return family === 'IPv4' || host === '::';
      })
      .map(({ address }) => ({ address, rank: unlikely(name, address) })),
  );
  found.sort((one, other) => one.rank - other.rank);
  return [...first, ...found.map(({ address }) => originOf(address, port))];
}
