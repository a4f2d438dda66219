import type {
  BestOrder,
  LinePages,
  LineToPlan,
  Mishaps,
  OrderOptions,
  OrderTeam,
  StandPlan,
  StandService,
} from '#music';

/** What the worker is asked. `stands` comes before every question about them; its songs are kept there. */
export type Job =
  | { readonly kind: 'stands'; readonly service: StandService }
  | { readonly kind: 'least change'; readonly id: number; readonly mishaps: Mishaps }
  | {
      readonly kind: 'best order';
      readonly id: number;
      readonly items: readonly LineToPlan[];
      readonly team: OrderTeam;
      readonly options: Omit<OrderOptions, 'onStands'>;
    };

/** To a question about the stands the plan comes first, then each song’s pages, then `told`. */
export type WorkerSays =
  | { readonly kind: 'plan'; readonly id: number; readonly plan: StandPlan }
  | { readonly kind: 'pages'; readonly id: number; readonly pages: LinePages }
  | { readonly kind: 'told'; readonly id: number }
  | { readonly kind: 'best'; readonly id: number; readonly best: BestOrder }
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };
