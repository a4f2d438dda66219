import { work } from '../threads/work.ts';
import { OrderPlans } from './order-plans.ts';

const plans = new OrderPlans();

/** Works out what it is sent, in a thread of its own: a second or two of computing must not hold up the server. */
work(plans.of.bind(plans));
