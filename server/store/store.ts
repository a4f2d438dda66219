import { arrangementsStore, type ArrangementsStore } from './arrangements.store.ts';
import type { Connection, Database } from './database.ts';
import { demoStore, type DemoStore } from './demo.store.ts';
import { everyRequest } from './every-request.ts';
import { addTeam, findTeams } from './every-team.ts';
import { guard } from './guarded.ts';
import { libraryStore, type LibraryStore } from './library.store.ts';
import { linksStore, type LinksStore } from './links.store.ts';
import { membersStore, type MembersStore } from './members.store.ts';
import type { Scope, Surroundings } from './scope.ts';
import { servicesStore, type ServicesStore } from './services.store.ts';
import { sessionsStore, type SessionsStore } from './sessions.store.ts';
import { setStore, type SetStore } from './set.store.ts';
import { songsStore, type SongsStore } from './songs.store.ts';
import { teamStore, type StoredTeam } from './teams.store.ts';

/** Everything one team has. */
export interface TeamRooms {
  readonly everyRequest: ReturnType<typeof everyRequest>;
  readonly team: ReturnType<typeof teamStore>;
  readonly songs: SongsStore;
  readonly members: MembersStore;
  readonly arrangements: ArrangementsStore;
  readonly services: ServicesStore;
  readonly demo: DemoStore;
  /** What the whole book is asked for. */
  readonly library: LibraryStore;
  readonly links: LinksStore;
  readonly sessions: SessionsStore;
  readonly set: SetStore;
  /** Time and chance, for use cases too. */
  readonly surroundings: Surroundings;
}

/** The only way to a team's rows. What it gives cannot reach another team's. */
export interface TeamStore extends TeamRooms {
  /**
   * Runs one use case: all of it is written, or nothing, and nobody else's write comes in between. Use only the rooms
   * that are handed in, and wait for nothing but the database.
   */
  readonly together: <T>(work: (rooms: TeamRooms) => Promise<T>) => Promise<T>;
}

export interface Store {
  readonly forTeam: (teamId: string) => TeamStore;
  readonly teams: () => Promise<StoredTeam[]>;
  readonly addTeam: (name: string) => Promise<string>;
  /** Several use cases as one: all of them are written, or nothing. Use only the store that is handed in. */
  readonly together: <T>(work: (store: Store) => Promise<T>) => Promise<T>;
}

/** Opens a transaction, or where one is open already goes on in it. */
type Run = <T>(work: (db: Connection) => Promise<T>) => Promise<T>;

function roomsOf(connection: Connection, teamId: string, surroundings: Surroundings): TeamRooms {
  const { now, newId } = surroundings;
  const scope: Scope = { now, newId, teamId, db: guard(connection, teamId) };
  return {
    everyRequest: everyRequest(connection, teamId, now),
    team: teamStore(scope),
    songs: songsStore(scope),
    members: membersStore(scope),
    arrangements: arrangementsStore(scope),
    services: servicesStore(scope),
    demo: demoStore(scope),
    library: libraryStore(scope),
    links: linksStore(scope),
    sessions: sessionsStore(scope),
    set: setStore(scope),
    surroundings,
  };
}

function storeOn(connection: Connection, run: Run, surroundings: Surroundings): Store {
  return {
    forTeam: (teamId) => ({
      ...roomsOf(connection, teamId, surroundings),
      together: (work) => run((db) => work(roomsOf(db, teamId, surroundings))),
    }),
    teams: () => findTeams(connection),
    addTeam: (name) => addTeam(connection, surroundings, name),
    together: (work) => run((db) => work(storeOn(db, (inside) => inside(db), surroundings))),
  };
}

export function createStore(database: Database, surroundings: Surroundings): Store {
  return storeOn(database, (work) => database.$transaction(work), surroundings);
}
