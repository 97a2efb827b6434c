// PostgreSQL, asked only about the tables of one schema. The library's own question is about every table of the database; it fails where
// somebody else drops one of theirs meanwhile, or has a schema that is closed to us.
import { type DatabaseIntrospector, type Kysely, PostgresDialect, type PostgresDialectConfig, sql } from 'kysely';

export class SchemaDialect extends PostgresDialect {
  readonly #schema: string;

  constructor(schema: string, config: PostgresDialectConfig) {
    super(config);
    this.#schema = schema;
  }

  /** Names alone: nothing here asks for columns. */
  override createIntrospector(db: Kysely<never>): DatabaseIntrospector {
    const getTables: DatabaseIntrospector['getTables'] = async () => {
      const { rows } = await sql<{ readonly name: string; readonly isView: boolean }>`
        select table_name as "name", table_type = 'VIEW' as "isView" from information_schema.tables
        where table_schema = ${this.#schema}`.execute(db);
      return rows.map((row) => ({ ...row, schema: this.#schema, columns: [] }));
    };
    return {
      getTables,
      getSchemas: async () =>
        (await sql<{ readonly name: string }>`select schema_name as "name" from information_schema.schemata`.execute(db)).rows,
      // eslint-disable-next-line @typescript-eslint/no-deprecated -- the interface still asks for it
      getMetadata: async (options) => ({ tables: await getTables(options) }),
    };
  }
}
