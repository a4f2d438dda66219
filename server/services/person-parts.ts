import { PagePlayers } from '#music';

/** Who plays what of a service, from which page: the same on the server and on a tablet. */
export const { levelFor, playerOf, rolesWithPages } = PagePlayers;
