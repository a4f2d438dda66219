import { z } from 'zod';
import { WAY_KINDS } from '#music';
import { VoiceRange } from './members.ts';
import { ArrangedForm, DeletedAt, Id, KeyName, OwnRungs, RoleName, Version } from './music.ts';

const Title = z.string().trim().max(120);
const Zone = z
  .string()
  .min(1)
  .max(60)
  .meta({ description: 'An IANA time zone: Europe/Berlin', examples: ['Europe/Berlin'] });
const Clock = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/)
  .meta({ description: 'On the clocks there: 10:30', examples: ['10:30'] });

/** One line of the order of service. Its id is made by whoever writes the order and is its own within the service. */
export const ServiceItem = z
  .object({
    id: Id,
    kind: z.enum(['song', 'reading', 'prayer', 'talk', 'other']),
    title: Title.default('').meta({ description: 'What it is called; a song has its own title' }),
    minutes: z.int().min(0).max(240).nullable().default(null).meta({
      description: 'Whole minutes; null: a song’s own length, of anything else: not known',
    }),
    note: z.string().trim().max(500).default(''),
    song: Id.nullable().default(null),
    key: KeyName.nullable()
      .default(null)
      .meta({ description: 'The key it sounds in; null: the usual key of the song' }),
    lead: Id.nullable().default(null).meta({ description: 'Null: who usually leads the song' }),
    form: ArrangedForm.nullable()
      .default(null)
      .meta({ description: 'null: the usual form of the song' }),
    playedIn: z
      .record(Id, z.string().regex(/^[A-G][#b]?$/))
      .default({})
      .meta({
        description:
          'By member: the tonic that the page is written in where it is not the sounding one, by transpose button or capo',
      }),
    rungs: z.record(Id, OwnRungs).default({}).meta({
      description: 'By member: what they play at the keys where it is not as their levels say',
    }),
    wayOn: z.enum(WAY_KINDS).nullable().default(null).meta({
      description: 'How the music goes on to the next song; null: nothing is planned',
    }),
  })
  .meta({ id: 'ServiceItem' });
export type ServiceItem = z.output<typeof ServiceItem>;
export type ServiceItemInput = z.input<typeof ServiceItem>;

/** Who does what this week. */
export const ServicePerson = z
  .object({
    member: Id,
    roles: z.array(RoleName).max(7),
    voice: VoiceRange.nullable().default(null).meta({
      description:
        'This week’s comfortable range; it goes with the service and never into the member. null: the usual one',
    }),
  })
  .meta({ id: 'ServicePerson' });
export type ServicePerson = z.output<typeof ServicePerson>;
export type ServicePersonInput = z.input<typeof ServicePerson>;

const fields = {
  title: Title.min(1),
  date: z.iso.date(),
  time: Clock,
  until: Clock.nullable().meta({
    description: 'When it has to end; not after `time`: the next day; null: whenever it ends',
  }),
  zone: Zone,
  place: Title,
  items: z.array(ServiceItem).max(100),
  people: z.array(ServicePerson).max(60),
};

export const Service = z
  .object({
    id: Id,
    ...fields,
    startsAt: z.iso.datetime().meta({ description: 'Date and time in their zone, as an instant' }),
    version: Version,
    deletedAt: DeletedAt,
  })
  .meta({ id: 'Service' });
export type Service = z.output<typeof Service>;

export const ServiceListItem = z
  .object({
    id: Id,
    title: z.string(),
    date: z.iso.date(),
    time: Clock,
    zone: Zone,
    place: z.string(),
    startsAt: z.iso.datetime(),
    over: z.boolean().meta({ description: 'Its day has passed, where it takes place' }),
    songs: z.array(z.string()).meta({ description: 'Titles, in order' }),
    people: z.int(),
    version: Version,
    deletedAt: DeletedAt,
  })
  .meta({ id: 'ServiceListItem' });
export type ServiceListItem = z.infer<typeof ServiceListItem>;

export const ServiceList = z
  .object({ services: z.array(ServiceListItem) })
  .meta({ id: 'ServiceList', description: 'By date, the earliest first' });
export type ServiceList = z.infer<typeof ServiceList>;

export const ServiceListQuery = z.object({
  deleted: z
    .enum(['0', '1'])
    .default('0')
    .meta({ description: '1: the deleted services, which can be restored' }),
});

/** `from` names a service to begin with: its order and people are taken over, its voices of that week and links are not. */
export const NewService = z
  .object({
    title: fields.title.exactOptional(),
    date: fields.date,
    time: fields.time.exactOptional(),
    until: fields.until.exactOptional(),
    zone: fields.zone.exactOptional(),
    place: fields.place.exactOptional(),
    items: fields.items.exactOptional(),
    people: fields.people.exactOptional(),
    from: Id.exactOptional(),
  })
  .meta({ id: 'NewService' });
export type NewService = z.input<typeof NewService>;
/** As it is read: every line and person whole. */
export type NewServiceRead = z.output<typeof NewService>;

/** Items and people are sent whole, in order. To undo, send the earlier ones. */
export const ServiceChange = z
  .object({
    title: fields.title.exactOptional(),
    date: fields.date.exactOptional(),
    time: fields.time.exactOptional(),
    until: fields.until.exactOptional(),
    zone: fields.zone.exactOptional(),
    place: fields.place.exactOptional(),
    items: fields.items.exactOptional(),
    people: fields.people.exactOptional(),
  })
  .refine((change) => Object.keys(change).length > 0, { message: 'changes nothing' })
  .meta({ id: 'ServiceChange' });
export type ServiceChange = z.input<typeof ServiceChange>;
export type ServiceChangeRead = z.output<typeof ServiceChange>;
