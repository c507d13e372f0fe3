// Every household has a plan: its next visits, what each of them changes, and what people wish of it.
import { type Kysely, PostgresAdapter, sql } from 'kysely'

/** Frozen once released: later steps only add. Nothing is planned yet: a household without a row is planned when the office opens. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const run = (statement: string) => sql.raw(statement).execute(db)
  for (const column of WISHES) await run(`alter table sites add column ${column}`)
  // On SQLite the rows lie in the order of their keys: a household's visits stand together.
  const kept = db.getExecutor().adapter instanceof PostgresAdapter ? '' : ' without rowid'
  for (const [name, columns] of TABLES)
    await run(
      `create table ${name} (office_id bigint not null references offices (id), site_id bigint not null, ${columns})${kept}`,
    )
  for (const index of INDEXES) await run(index)
}

const date = (column: string) => `${column} text not null check (${column} like '____-__-__')`
const dateOrNone = (column: string) => `${column} text check (${column} like '____-__-__')`

const WISHES: readonly string[] = [
  "plan_avoid_months text not null default ''",
  'plan_membrane_never_early integer check (plan_membrane_never_early in (0, 1))',
  'plan_align integer not null default 0 check (plan_align in (0, 1))',
]

const TABLES: readonly (readonly [string, string])[] = [
  [
    'site_plans',
    `${date('planned_on')}, ${date('horizon_on')}, ${dateOrNone('next_visit_on')}, ${dateOrNone('latest_on')},
     visits integer not null check (visits >= 0), total_cents bigint not null,
     saves_own_dates_cents bigint not null, saves_everything_cents bigint not null,
     proved integer not null check (proved in (0, 1)), stale integer not null default 0 check (stale in (0, 1)),
     primary key (office_id, site_id), foreign key (office_id, site_id) references sites (office_id, id)`,
  ],
  [
    'planned_visits',
    `${date('latest_on')}, ${date('visit_on')}, minutes integer not null check (minutes >= 0), cents bigint not null,
     check (visit_on <= latest_on), primary key (office_id, site_id, latest_on),
     foreign key (office_id, site_id) references site_plans (office_id, site_id)`,
  ],
  [
    'planned_changes',
    `${date('latest_on')}, stage_id bigint not null, kind text not null check (kind in ('forced', 'along', 'carried')),
     ${dateOrNone('due_on')}, primary key (office_id, site_id, latest_on, stage_id),
     foreign key (office_id, site_id, latest_on) references planned_visits (office_id, site_id, latest_on),
     foreign key (office_id, stage_id) references stages (office_id, id)`,
  ],
]

const INDEXES: readonly string[] = [
  'create index site_plans_stale on site_plans (office_id, site_id) where stale = 1',
  'create index site_plans_by_age on site_plans (office_id, planned_on)',
  'create index site_plans_next on site_plans (office_id, next_visit_on) where next_visit_on is not null',
  'create index planned_visits_by_day on planned_visits (office_id, visit_on)',
]
