import { describe, expect, test } from 'vitest'
import { checkImportPlan } from '../../core/imports/check-import-plan.ts'
import type { JudgedHousehold, JudgedList } from '../../core/imports/judge-list.ts'
import { guessColumns } from '../../core/imports/open-list.ts'
import { planImport } from '../../core/imports/plan-import.ts'
import { aJudgedList, anOpenedList, LIST_DAY } from '../builders/a-list.ts'

/** A list read by its guesses alone, and held against the judge. */
function read(text: string): JudgedList {
  const judged = aJudgedList(text)
  const plan = planImport(judged.households, {}, new Set())
  const { sheet } = anOpenedList(text)
  expect(checkImportPlan({ sheet, judged, chosen: {}, numbersInBooks: new Set(), plan })).toEqual([])
  return judged
}

const usesOf = (text: string): string[] => guessColumns(anOpenedList(text).sheet, LIST_DAY).map((guess) => guess.use)
const stagesOf = ({ household }: JudgedHousehold): (string | null)[][] =>
  household.units.flatMap((unit) =>
    unit.stages.map(({ kind, changedOn, dueOn, months }) => [
      kind,
      changedOn,
      ...(dueOn === null ? [] : [`due ${dueOn}`]),
      ...(months === null ? [] : [`${months} months`]),
    ]),
  )

/*
 * The office that keeps everything in one sheet: a title over merged cells, a line of notes to itself, a row a household and a column
 * a stage, line breaks in the notes, two telephones in a cell, blank rows between towns, a town's own line, a total. Common practice
 * of such lists, no source.
 */
const ONE_BIG_SHEET = [
  'RO CUSTOMERS - MASTER LIST (do not sort!!),,,,,,,,,,',
  'last updated by Wren 11/20/26,,,,,,,,,,',
  ',,,,,,,,,,',
  'Customer Name,Ph #,Service Addr,City / St / Zip,# in house,Sed date,Carbon date,2nd carbon,Membrane date,Post/taste,Tank Sani,Notes to tech'.replace(
    ',Tank Sani',
    ',Tank sanitized',
  ),
  '"Abernathy-Vance, Corinne","555-0142 / 555-0143 cell",18 Weirside Ln,"Tollard Mill, XX 00142",4,5/9/26,5/9/26,,11/23/23,5/9/26,5/9/26,"Key under pot.\nRing twice!\nDog: ""Bear"""',
  '"Galbraith, Ottoline & Piers",555-0144 (w) or 555-0145 (h),2 Mill Row,"Tollard Mill, XX 00142",2,1/14/26,1/14/26,1/14/26,2/20/2022,,,',
  ',,,,,,,,,,,',
  'Lodz Bakery - attn. Wanda,555.0152,11 Quay Street,"Pell Harbor, XX 00143",,10/3/25,10/3/25,n/a,10/3/25,10/3/25,no,',
  'Marchetti,call evenings,9 Harbor Steps,"Pell Harbor, XX 00143",1 adult,Mar 2026,13/40/26,,,,,moved?',
  'TOTAL: 4,,,,,,,,,,,',
].join('\r\n')

/* The printout of a cash book saved as text: semicolons, German words, day first with dots, group names over the dates, money beside. */
const FROM_ABROAD = [
  'Osmoseanlagen - Kundenliste;;;;;;;;;;',
  'Stand: 20.11.2026;;;;;;;;;;',
  ';;;;;letzter Wechsel;;;nächster Wechsel;;',
  'KdNr;Nachname;Vorname;Straße;PLZ Ort;Vorfilter;Aktivkohle;Membran;Vorfilter;Membran;Betrag',
  '1001;Lindqvist;Caius;Søndergate 3;00145 Saltgrass;14.03.2026;14.03.2026;02.11.2023;14.03.2027;02.11.2026;129,50 €',
  '1002;Müller;Thea;Mühlweg 9;00144 Nether Quay;01.09.2026;01.09.2026;;01.09.2027;01.03.2027;89,00 €',
].join('\r\n')

/* The technician's own log: tabs, the newest visit first, a row a visit, everything about the address in one cell. */
const A_LOG = [
  'Visit date\tWho\tWhere\tTel\tWhat was replaced\tInterval',
  '11/03/2026\tIda Holt\t4 Mill Row\\, Saltgrass XX 00145\t555-0160\tSediment\t6 months'.replace('\\,', ','),
  '11/03/2026\tIda Holt\t4 Mill Row, Saltgrass XX 00145\t555-0160\tCarbon block\t6 months',
  '11/13/2025\tIda Holt\t4 Mill Row, Saltgrass XX 00145\t555-0160\tSediment\t6 months',
  '02/20/2024\tIda Holt\t4 Mill Row, Saltgrass XX 00145\t555-0160\tRO membrane\t3 years',
  '08/17/2026\tBo Lund\t7 Weir Walk, Nether Quay XX 00144\t555-0161\tPost carbon\tannual',
].join('\n')

describe('lists in the manner of quite different dealers', () => {
  test('IMP-24 one big sheet: a row a household and a column a stage', () => {
    expect(usesOf(ONE_BIG_SHEET)).toEqual([
      ...['name', 'phone', 'street', 'town', 'people'],
      ...['sediment/1/changed-on', 'carbon/1/changed-on', 'carbon/2/changed-on', 'membrane/1/changed-on'],
      ...['post-carbon/1/changed-on', 'tank/1/changed-on', 'notes'],
    ])
    const judged = read(ONE_BIG_SHEET)
    const [corinne, ottoline, bakery] = judged.households
    if (!corinne || !ottoline || !bakery) throw new Error('three households are wanted')
    expect(corinne.household).toMatchObject({
      phones: ['555-0142', '555-0143 cell'],
      address: { line1: '18 Weirside Ln', town: 'Tollard Mill', region: 'XX', postalCode: '00142' },
      people: 4,
      note: 'Key under pot.\nRing twice!\nDog: "Bear"',
    })
    expect(stagesOf(corinne)).toEqual([
      ['sediment', '2026-05-09'],
      ['carbon', '2026-05-09'],
      ['membrane', '2023-11-23'],
      ['tank', '2026-05-09'],
      ['post-carbon', '2026-05-09'],
    ])
    expect(stagesOf(ottoline).map(([kind]) => kind)).toEqual(['sediment', 'carbon', 'carbon', 'membrane'])
    expect(ottoline.household.phones).toEqual(['555-0144 (w)', '555-0145 (h)'])
    expect(stagesOf(bakery).map(([kind]) => kind)).toEqual(['sediment', 'carbon', 'membrane', 'post-carbon'])
    expect(judged.refused.map(({ line, findings }) => [line, findings[0]?.sentence])).toEqual([
      [11, '"13/40/26" is not a date.'],
    ])
  })

  test('IMP-24 a list from abroad: group names over the stages, the last change and the next one', () => {
    expect(usesOf(FROM_ABROAD)).toEqual([
      ...['reference', 'last-name', 'first-name', 'street', 'town'],
      ...['sediment/1/changed-on', 'carbon/1/changed-on', 'membrane/1/changed-on'],
      ...['sediment/1/due-on', 'membrane/1/due-on', 'ignore'],
    ])
    const [caius, thea] = read(FROM_ABROAD).households
    if (!caius || !thea) throw new Error('two households are wanted')
    expect(caius.household.address).toMatchObject({ line1: 'Søndergate 3', postalCode: '00145', town: 'Saltgrass' })
    expect(stagesOf(caius)).toEqual([
      ['sediment', '2026-03-14'],
      ['carbon', '2026-03-14'],
      ['membrane', '2023-11-02'],
    ])
    // Nothing says when the membrane was changed, so the date it falls due is all there is.
    expect(stagesOf(thea)).toEqual([
      ['sediment', '2026-09-01'],
      ['carbon', '2026-09-01'],
      ['membrane', null, 'due 2027-03-01'],
    ])
  })

  test("IMP-24 a technician's log: a row a change, the last one stands", () => {
    expect(usesOf(A_LOG)).toEqual(['stage-changed-on', 'name', 'address', 'phone', 'stage', 'stage-months'])
    const [ida, bo] = read(A_LOG).households
    if (!ida || !bo) throw new Error('two households are wanted')
    expect(stagesOf(ida)).toEqual([
      ['sediment', '2026-11-03', '6 months'],
      ['carbon', '2026-11-03', '6 months'],
      ['membrane', '2024-02-20', '36 months'],
    ])
    expect(stagesOf(bo)).toEqual([['post-carbon', '2026-08-17', '12 months']])
    expect(ida.household.address).toMatchObject({ line1: '4 Mill Row', town: 'Saltgrass', postalCode: '00145' })
  })

  // Wordings of columns for the date of one stage; common practice, no source.
  test.each([
    ['Sediment changed', 'sediment/1/changed-on'],
    ['SED. FILTER LAST CHG', 'sediment/1/changed-on'],
    ['Prefilter date', 'sediment/1/changed-on'],
    ['Carbon #1 replaced', 'carbon/1/changed-on'],
    ['Date of carbon', 'carbon/1/changed-on'],
    ['Membrane Date', 'membrane/1/changed-on'],
    ['RO Membrane installed', 'membrane/1/changed-on'],
    ['MembraneChanged', 'membrane/1/changed-on'],
    ['Membrane due', 'membrane/1/due-on'],
    ['Next membrane change', 'membrane/1/due-on'],
    ['Post filter', 'post-carbon/1/changed-on'],
    ['UV bulb changed', 'uv-lamp/1/changed-on'],
    ['Remineralizer last replaced', 'remineraliser/1/changed-on'],
    ['Tank sanitised on', 'tank/1/changed-on'],
    ['Membran gewechselt am', 'membrane/1/changed-on'],
  ])('IMP-24 a dated column called %j gives its stage its date', (name, use) => {
    expect(usesOf(`Name,Street,${name}\nIda Holt,4 Mill Row,5/14/2026\nBo Lund,5 Mill Row,\n`)[2]).toBe(use)
  })
})
