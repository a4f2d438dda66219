import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { NewMember } from '../contract/members.ts';
import { arrangeSong, findArrangement } from '../services/arrange-song.ts';
import { importSong } from '../services/import-song.ts';
import { addMember } from '../services/save-member.ts';
import type { Store } from '../store/store.ts';

/** `seed-data/team.json`: an invented team and the hymns it begins with. */
const SeedTeam = z.object({
  name: z.string(),
  members: z.array(NewMember),
  /** Files in `seed-data/hymns`. */
  songs: z.array(z.string()),
  /** By name: who plays, who leads the singing, who sings. */
  usually: z.object({ player: z.string(), lead: z.string(), singers: z.array(z.string()) }),
});

/** The team whose rows are shown: the first there is; on an empty database the one in `seed-data`. */
export async function requireTeamId(store: Store, seedData: string): Promise<string> {
  const [first] = await store.teams();
  return first?.id ?? store.together((inside) => seed(inside, seedData));
}

async function seed(store: Store, folder: string): Promise<string> {
  const text = await readFile(join(folder, 'team.json'), 'utf8');
  const plan = SeedTeam.parse(JSON.parse(text));
  const teamId = await store.addTeam(plan.name);
  const team = store.forTeam(teamId);
  const ids = new Map<string, string>();
  for (const facts of plan.members) {
    const { id, name } = await addMember(team, facts);
    ids.set(name, id);
  }
  const idOf = (name: string): string => {
    const id = ids.get(name);
    if (!id) throw new Error(`team.json names ${name}, who is not among its members`);
    return id;
  };
  for (const file of plan.songs) {
    const bytes = await readFile(join(folder, 'hymns', file));
    const song = await importSong(team, { format: 'abc', bytes: bytes.toString('base64') });
    const { version } = await findArrangement(team, song.id);
    await arrangeSong(team, song.id, version, {
      player: idOf(plan.usually.player),
      lead: idOf(plan.usually.lead),
      singers: plan.usually.singers.map(idOf),
    });
  }
  return teamId;
}
