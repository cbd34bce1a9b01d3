import {
  type ColumnDefinitionBuilder,
  type CreateTableBuilder,
  type Kysely,
  type Migration,
  sql,
} from 'kysely';

/** Double precision is REAL to SQLite, and eight bytes to both. */
const real = sql`double precision`;

const required = (column: ColumnDefinitionBuilder) => column.notNull();
const known = (table: string) => (column: ColumnDefinitionBuilder) => column.references(table);
const requiredKnown = (table: string) => (column: ColumnDefinitionBuilder) =>
  column.notNull().references(table);

type Table = CreateTableBuilder<string, string>;

const rows = (table: Table): Table =>
  table
    .addColumn('id', 'text', (c) => c.primaryKey().notNull())
    .addColumn('createdAt', 'text', required)
    .addColumn('changedAt', 'text', required)
    .addColumn('putAwayAt', 'text');

const remarked = (table: Table): Table => table.addColumn('remark', 'text', required);

const named = (table: Table): Table =>
  remarked(rows(table))
    .addColumn('name', 'text', required)
    .addColumn('nameKey', 'text', (c) => c.notNull().unique());

const exposed = (table: Table): Table =>
  remarked(rows(table))
    .addColumn('dyeId', 'text', requiredKnown('dyes.id'))
    .addColumn('clothId', 'text', requiredKnown('cloths.id'))
    .addColumn('lightId', 'text', requiredKnown('lights.id'))
    .addColumn('batchId', 'text', known('batches.id'))
    .addColumn('lampHours', real)
    .addColumn('sky', 'text')
    .addColumn('exposedAt', 'text', required);

const first: Migration = {
  async up(db: Kysely<unknown>) {
    const make = (name: string) => db.schema.createTable(name) as Table;
    await named(make('dyes')).execute();
    await named(make('cloths')).execute();
    await named(make('lights'))
      .addColumn('kind', 'text', required)
      .addColumn('distanceCm', real)
      .addColumn('glass', 'text', required)
      .addColumn('lampHours', real)
      .execute();
    await named(make('batches'))
      .addColumn('dyeId', 'text', known('dyes.id'))
      .addColumn('mixedAt', 'text', required)
      .execute();
    await named(make('cards')).addColumn('cardJson', 'text', required).execute();
    await remarked(rows(make('plans')))
      .addColumn('name', 'text', required)
      .addColumn('dyeId', 'text', known('dyes.id'))
      .addColumn('clothId', 'text', known('cloths.id'))
      .addColumn('lightId', 'text', known('lights.id'))
      .addColumn('secondsJson', 'text', required)
      .addColumn('planJson', 'text', required)
      .execute();
    await make('photos')
      .addColumn('sha256', 'text', (c) => c.primaryKey().notNull())
      .addColumn('bytes', 'integer', required)
      .addColumn('format', 'text', required)
      .addColumn('widthPx', 'integer', required)
      .addColumn('heightPx', 'integer', required)
      .addColumn('createdAt', 'text', required)
      .execute();
    await exposed(make('readings'))
      .addColumn('purpose', 'text', required)
      .addColumn('cardId', 'text', known('cards.id'))
      .addColumn('planId', 'text', known('plans.id'))
      .addColumn('photo', 'text', requiredKnown('photos.sha256'))
      .addColumn('readAt', 'text', required)
      .addColumn('methodVersion', 'text', required)
      .addColumn('supersedesId', 'text', known('readings.id'))
      .addColumn('fitted', 'integer', required)
      .addColumn('status', 'text', required)
      .addColumn('targetJson', 'text', required)
      .addColumn('seconds', real)
      .addColumn('low', real)
      .addColumn('high', real)
      .addColumn('roundedSeconds', real)
      .addColumn('baseL', real)
      .addColumn('deepestL', real)
      .addColumn('shortestSeconds', real)
      .addColumn('longestSeconds', real)
      .addColumn('relative', 'integer', required)
      .addColumn('marksConfidence', real, required)
      .addColumn('confirmed', 'integer', required)
      .addColumn('warnings', 'integer', required)
      .addColumn('cardKey', 'text', required)
      .addColumn('remarkKey', 'text', required)
      .execute();
    await make('readingBodies')
      .addColumn('readingId', 'text', (c) => c.primaryKey().notNull().references('readings.id'))
      .addColumn('settingsJson', 'text', required)
      .addColumn('readingJson', 'text', required)
      .execute();
    await make('curveDraws')
      .addColumn('readingId', 'text', (c) => c.primaryKey().notNull().references('readings.id'))
      .addColumn('drawsJson', 'text', required)
      .execute();
    await exposed(make('controls'))
      .addColumn('againstId', 'text', requiredKnown('readings.id'))
      .addColumn('readingId', 'text', known('readings.id'))
      .addColumn('scrapsJson', 'text', required)
      .addColumn('setup', 'text', required)
      .addColumn('shiftStops', real)
      .addColumn('shiftLow', real)
      .addColumn('shiftHigh', real)
      .addColumn('sentence', 'text', required)
      .execute();
    await exposed(make('prints'))
      .addColumn('name', 'text', required)
      .addColumn('secondsUsed', real, required)
      .addColumn('targetJson', 'text')
      .addColumn('calibrationId', 'text', known('readings.id'))
      .addColumn('movedStops', real, required)
      .addColumn('predictedL', real)
      .addColumn('predictedDepthPercent', real)
      .addColumn('reachedL', real)
      .addColumn('reachedUL', real)
      .addColumn('reachedDepthPercent', real)
      .addColumn('readingId', 'text', known('readings.id'))
      .addColumn('missedStops', real)
      .execute();
    await rows(make('notes'))
      .addColumn('onKind', 'text', required)
      .addColumn('onId', 'text', required)
      .addColumn('text', 'text', required)
      .execute();
    const index = (name: string, table: string, columns: readonly string[]) =>
      db.schema
        .createIndex(name)
        .on(table)
        .columns([...columns])
        .execute();
    await index('readingsByUse', 'readings', ['dyeId', 'clothId', 'lightId', 'exposedAt']);
    await index('readingsByDay', 'readings', ['putAwayAt', 'exposedAt', 'id']);
    await index('readingsByBatch', 'readings', ['batchId', 'exposedAt']);
    await index('readingsByLater', 'readings', ['supersedesId', 'putAwayAt']);
    await index('readingsByPhoto', 'readings', ['photo']);
    await index('controlsByCurve', 'controls', ['againstId', 'exposedAt']);
    await index('controlsByDay', 'controls', ['exposedAt']);
    await index('printsByUse', 'prints', ['dyeId', 'clothId', 'lightId', 'exposedAt']);
    await index('notesByRow', 'notes', ['onKind', 'onId']);
  },
};

/**
 * The large texts of a reading may be there before its row, as its photo may: what brings in many then needs the write
 * lock for the rows alone. Neither database drops the reference in the same words, so the table is made anew.
 */
const bodiesFirst: Migration = {
  async up(db: Kysely<unknown>) {
    await db.schema
      .createTable('readingBodiesAnew')
      .addColumn('readingId', 'text', (c) => c.primaryKey().notNull())
      .addColumn('settingsJson', 'text', required)
      .addColumn('readingJson', 'text', required)
      .execute();
    await sql`insert into "readingBodiesAnew" select "readingId", "settingsJson", "readingJson" from "readingBodies"`.execute(
      db,
    );
    await db.schema.dropTable('readingBodies').execute();
    await db.schema.alterTable('readingBodiesAnew').renameTo('readingBodies').execute();
    await db.schema
      .createTable('arrivals')
      .addColumn('name', 'text', (c) => c.primaryKey().notNull())
      .addColumn('arrival', 'text', required)
      .addColumn('holder', 'text', required)
      .addColumn('at', 'text', required)
      .execute();
  },
};

/** Prints can be judged by eye. */
const judgedPrints: Migration = {
  async up(db: Kysely<unknown>) {
    await db.schema.alterTable('prints').addColumn('judged', 'text').execute();
  },
};

/** Every change of the schema, in order; the names sort. A change once released is never edited, only followed. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '001-first': first,
  '002-bodies-first': bodiesFirst,
  '003-judged-prints': judgedPrints,
};
