// Makes everything that a start needs, and starts nothing.
import { prepare } from './prepare.mjs';

prepare();
