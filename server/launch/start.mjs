// `npm start`: makes ready what is not, then opens the app.
import { isAbsolute, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { migrate, prepare, ROOT } from './prepare.mjs';

prepare();
const url = process.env['DATABASE_URL'] ?? 'file:./data/partbook.db';
const file = url.replace(/^file:/, '');
const database = `file:${isAbsolute(file) ? file : join(ROOT, file)}`;
process.env['DATABASE_URL'] = database;
migrate(database);
await import(pathToFileURL(join(ROOT, 'dist/server/main.js')).href);
