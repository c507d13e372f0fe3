import { backUpWork } from './backups/back-up-work.ts'
import { demoWork } from './demo/demo-work.ts'
import { figuresWork } from './desk/figures-work.ts'
import { importJudgeWork, importTakeWork } from './imports/import-work.ts'
import { importLookWork } from './imports/look-work.ts'
import { issueWork } from './invoices/issue-work.ts'
import { writeLettersWork } from './letters/letters-work.ts'
import { recallLettersWork } from './letters/recall-letters-work.ts'
import { proposalsWork } from './orders/proposals-work.ts'
import { worthOnWork, worthWork } from './orders/worth-work.ts'
import { changeMonthsWork, changeSettingWork } from './settings/change-figures-work.ts'
import { beginCountWork } from './stock/begin-count-work.ts'
import { recallVisitsWork } from './stock/recall-visits-work.ts'
import { freeLotWork, proposeRecallVisitsWork, recallLotWork } from './stock/recall-work.ts'
import { whatToCountWork } from './stock/what-to-count-work.ts'
import { lookAheadWork } from './visits/look-ahead-work.ts'
import { planWork } from './visits/plan-work.ts'
import type { NamedWork } from './work/work.ts'

/** Long works by name, each from its folder's `-work.ts`. Started by `work.start` with the same name. */
export const WORKS: Readonly<Record<string, NamedWork>> = {
  'write-letters': writeLettersWork,
  'issue-invoices': issueWork,
  'tray-figures': figuresWork,
  'short-parts': proposalsWork,
  'stock-worth': worthWork,
  'stock-worth-on': worthOnWork,
  'what-to-count': whatToCountWork,
  'look-ahead': lookAheadWork,
  'back-up': backUpWork,
  demo: demoWork,
  'import-look': importLookWork,
  'import-judge': importJudgeWork,
  'import-take': importTakeWork,
  'plan-visits': planWork,
  'change-setting': changeSettingWork,
  'change-months': changeMonthsWork,
  'begin-count': beginCountWork,
  'recall-lot': recallLotWork,
  'free-lot': freeLotWork,
  'propose-recall-visits': proposeRecallVisitsWork,
  'recall-visits': recallVisitsWork,
  'recall-letters': recallLettersWork,
}
