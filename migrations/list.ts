import type { Migration } from 'kysely/migration'
import * as step0001 from './0001-the-first-office.ts'
import * as step0002 from './0002-what-is-open.ts'
import * as step0003 from './0003-lists-in-pieces.ts'
import * as step0004 from './0004-stock-at-a-glance.ts'
import * as step0005 from './0005-what-a-letter-was-printed-with.ts'
import * as step0006 from './0006-what-the-readings-tell.ts'
import * as step0007 from './0007-visits-planned-ahead.ts'
import * as step0008 from './0008-the-warehouse-to-the-piece.ts'
import * as step0009 from './0009-who-says-a-lot-is-recalled.ts'
import * as step0010 from './0010-what-an-order-was-sent-with.ts'
import * as step0011 from './0011-where-pieces-on-the-way-go.ts'
import * as step0012 from './0012-what-falls-due-by-unit.ts'
import * as step0013 from './0013-one-list-of-what-is-due.ts'
import * as step0014 from './0014-what-orders-brought.ts'

/** The steps of the schema in order, written out. A released step is frozen: a change is a new step. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '0001-the-first-office': step0001,
  '0002-what-is-open': step0002,
  '0003-lists-in-pieces': step0003,
  '0004-stock-at-a-glance': step0004,
  '0005-what-a-letter-was-printed-with': step0005,
  '0006-what-the-readings-tell': step0006,
  '0007-visits-planned-ahead': step0007,
  '0008-the-warehouse-to-the-piece': step0008,
  '0009-who-says-a-lot-is-recalled': step0009,
  '0010-what-an-order-was-sent-with': step0010,
  '0011-where-pieces-on-the-way-go': step0011,
  '0012-what-falls-due-by-unit': step0012,
  '0013-one-list-of-what-is-due': step0013,
  '0014-what-orders-brought': step0014,
}
