import { PassThrough, type Readable } from 'node:stream';
import type { PacketRow } from '../../contract/packets.ts';
import type { ProblemDetails } from '../../contract/problems.ts';
import { Stopped, type Waiter } from './jobs.ts';
import type { PacketFile } from './packets.ts';

/**
 * What is said while a packet is made. It is stopped where whoever listens goes away.
 * @param problemOf what went wrong, as the routes say it
 */
export function packetRows(
  make: (waiter: Waiter) => Promise<PacketFile>,
  problemOf: (error: unknown) => ProblemDetails,
): Readable {
  const rows = new PassThrough();
  const gone = new AbortController();
  rows.once('close', () => gone.abort());
  const say = (row: PacketRow): unknown =>
    rows.writable ? rows.write(`${JSON.stringify(row)}\n`) : null;
  void make({ ontell: say, signal: gone.signal })
    .then(
      ({ bytes }) => say({ bytes: bytes.length }),
      (error: unknown) => {
        if (!(error instanceof Stopped)) say({ problem: problemOf(error) });
      },
    )
    .finally(() => rows.end());
  return rows;
}
