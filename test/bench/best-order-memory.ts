/**
 * Memory of a process that weighs so many hymns, searches their best order and does nothing else, for
 * `best-order.bench.ts`: says how many MB it had resident at its highest.
 */
import { ServiceOrder } from '#music';
import { OPTIONS, SONGS, TEAM } from './best-order-hymns.ts';

const songs = SONGS.slice(0, Number(process.argv[2]));
const weighed = songs.map((song) => ServiceOrder.weigh(song, TEAM));
ServiceOrder.bestOf(songs, weighed, TEAM, OPTIONS);
process.stdout.write((process.resourceUsage().maxRSS / 1024).toFixed(0));
