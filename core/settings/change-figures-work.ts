import { namedWork } from '../work/work.ts'
import { changeIntervalHere, changeSettingHere } from './change-figures-answers.ts'
import { intervalChangeSchema, settingChangeSchema } from './settings-contract.ts'

/** A setting that all due dates of a large office follow. */
export const changeSettingWork = namedWork({ input: settingChangeSchema, run: changeSettingHere })

/** The months of a kind of stage, likewise. */
export const changeMonthsWork = namedWork({ input: intervalChangeSchema, run: changeIntervalHere })
