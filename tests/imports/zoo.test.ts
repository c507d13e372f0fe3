import { describe, expect, test } from 'vitest'
import { looksOf } from '../../core/imports/column-looks.ts'
import { columnWords, nameSays, stageFactNamed, stageNamed } from '../../core/imports/column-words.ts'
import { columnLetters, findSheet, skippedInWords } from '../../core/imports/find-sheet.ts'
import { isRefusal, note, refusal } from '../../core/imports/finding.ts'
import { groupRows } from '../../core/imports/group-rows.ts'
import { confidenceWords, guessMapping } from '../../core/imports/guess-mapping.ts'
import { bringsInWords, choiceFor, householdKey, type JudgedList } from '../../core/imports/judge-list.ts'
import { isColumnUse, labelOfUse, mayRepeat, stageColumn, stageColumnParts } from '../../core/imports/list-fields.ts'
import { judgeManner } from '../../core/imports/list-manner.ts'
import {
  columnsKey,
  fromRemembered,
  type ListMapping,
  mappingGaps,
  mappingRemarks,
  toRemember,
  USUAL_STAGES,
} from '../../core/imports/list-mapping.ts'
import { flowRank, gatherUnits } from '../../core/imports/list-units.ts'
import { guessColumns, mappingOfGuesses, openList } from '../../core/imports/open-list.ts'
import { readRow } from '../../core/imports/read-row.ts'
import { readStagesOfColumns } from '../../core/imports/read-stages.ts'
import { columnPlaces, RowCells } from '../../core/imports/row-cells.ts'
import { aJudgedList, anOpenedList, LIST_DAY, US_OFFICE } from '../builders/a-list.ts'

const usesOf = (text: string): string[] => guessColumns(anOpenedList(text).sheet, LIST_DAY).map((guess) => guess.use)
const stagesOf = (judged: JudgedList, at = 0): (string | null)[][] =>
  (judged.households[at]?.household.units[0]?.stages ?? []).map(({ kind, changedOn }) => [kind, changedOn])
const refusedOf = (judged: JudgedList): [number, string][] =>
  judged.refused.map(({ line, findings }) => [line, findings[0]?.sentence ?? ''])

describe('lists as dealers have them', () => {
  test('IMP-5 three lines of title, a total and a page foot are no households', () => {
    const { sheet, said } = anOpenedList(
      'Customer list,,,\nLarkmoor Water,,,\nprinted Nov 2 2026,,,\nName,Phone,Street,Town\nIda Holt,555-0142,4 Mill Row,Saltgrass\nName,Phone,Street,Town\nBo Lund,555-0143,5 Mill Row,Saltgrass\nTotal,2,,\nPage 1 of 1,,,\n',
    )
    expect(sheet.headerLine).toBe(4)
    expect(sheet.rows.map((row) => row.line)).toEqual([5, 7])
    expect(skippedInWords(sheet.skipped)).toContain('3 lines left aside (above the header: 1, 2, 3)')
    expect(said.join(' ')).toContain('named in line 4')
  })

  test('IMP-5 columns at the end with neither name nor cell are not there; a nameless one with cells has a letter', () => {
    expect(anOpenedList('Name,Phone,,,\nIda Holt,555-0142,,,\n').sheet.columns).toEqual(['Name', 'Phone'])
    expect(anOpenedList('Name,,Phone\nIda Holt,x,555-0142\n').sheet.columns).toEqual(['Name', 'Column B', 'Phone'])
    expect(columnLetters(27)).toBe('AB')
    expect(findSheet([], LIST_DAY).rows).toEqual([])
  })

  test('IMP-5 group names over the header are put before the columns they cover', () => {
    const text =
      ',,Sediment,,Carbon,\nName,Street,Changed,Part,Changed,Part\nIda Holt,4 Mill Row,2026-05-09,P-1005,2026-05-09,P-1010\n'
    expect(anOpenedList(text).sheet.columns).toEqual([
      'Name',
      'Street',
      'Sediment Changed',
      'Sediment Part',
      'Carbon Changed',
      'Carbon Part',
    ])
    expect(stagesOf(aJudgedList(text))).toEqual([
      ['sediment', '2026-05-09'],
      ['carbon', '2026-05-09'],
    ])
  })

  test('IMP-7 a list without a header is known by the look of its cells', () => {
    expect(
      usesOf(
        '"Holt, Ida",555-0142,ida@example.com,4 Mill Row,00145\n"Lund, Bo",555-0143,bo@example.com,5 Quay Street,00146\n',
      ),
    ).toEqual(['name', 'phone', 'email', 'street', 'postal-code'])
  })

  test('IMP-7 names in many wordings', () => {
    expect(
      usesOf(
        'Acct #,LastName,First Name,Cell,Home Phone,E-mail Address,Service Address,City,ST,ZIP Code,Family size,Water Hardness (gpg),Comments\n1,Holt,Ida,555-0142,555-0143,i@example.com,4 Mill Row,Saltgrass,XX,00145,4,12,gate\n',
      ),
    ).toEqual([
      'reference',
      'last-name',
      'first-name',
      'second-phone',
      'phone',
      'email',
      'street',
      'town',
      'region',
      'postal-code',
      'people',
      'hardness',
      'notes',
    ])
    expect(
      usesOf(
        'Kundennr;Vorname;Nachname;Telefon;Straße;PLZ;Ort;Bemerkung\n1;Ida;Holt;555-0142;Mühlweg 4;00145;Saltgrass;Tor\n',
      ),
    ).toEqual(['reference', 'first-name', 'last-name', 'phone', 'street', 'postal-code', 'town', 'notes'])
  })

  test('IMP-7 a column called Phone that is full of e-mails is an e-mail, and nothing is given twice', () => {
    expect(
      usesOf(
        'Name,Phone,Tel\nIda Holt,ida@example.com,555-0142\nBo Lund,bo@example.com,555-0143\nOda Ek,oda@example.com,555-0144\n',
      ),
    ).toEqual(['name', 'email', 'phone'])
    const [sure, unknown] = guessMapping(
      [
        { name: 'E-mail', cells: ['a@example.com'] },
        { name: 'Zzz', cells: ['?'] },
      ],
      LIST_DAY,
    )
    expect(confidenceWords(sure?.confidence ?? 0)).toBe('sure')
    expect(unknown).toEqual({ use: 'ignore', confidence: 0 })
    expect(looksOf(['a@example.com', ''], LIST_DAY)).toMatchObject({ filled: 1, email: 1, phone: 0 })
  })

  test('IMP-7 stages spread over columns', () => {
    expect(
      usesOf(
        'Name,Sediment last changed,Carbon 1 date,Carbon 2 date,RO membrane replaced,Post filter,Tank sanitized,Sed months\nIda Holt,1/14/2026,1/14/2026,1/15/2026,2/14/2024,1/14/2026,1/14/2026,6\n',
      ),
    ).toEqual([
      'name',
      'sediment/1/changed-on',
      'carbon/1/changed-on',
      'carbon/2/changed-on',
      'membrane/1/changed-on',
      'post-carbon/1/changed-on',
      'tank/1/changed-on',
      'sediment/1/months',
    ])
  })

  test.each([
    ['Post carbon', 'post-carbon', null],
    ['Pre-carbon', 'carbon', null],
    ['2nd carbon', 'carbon', 2],
    ['Carbon block 10 in', 'carbon', null],
    ['Sed 5 micron', 'sediment', null],
    ['RO', 'membrane', null],
    ['75 GPD membrane', 'membrane', null],
    ['UV lamp', 'uv-lamp', null],
    ['Remin', 'remineraliser', null],
  ])('the stage in %j is %s', (text, kind, nth) => {
    expect(stageNamed(text)).toEqual({ kind, nth })
  })

  test('words of columns', () => {
    expect(columnWords('ZIP-Code*')).toBe('zip code')
    expect(nameSays('customer name', ['customer name'])).toBe(1)
    expect(stageFactNamed('carbon part no')).toBe('part')
  })
})

describe('rows become households', () => {
  test('IMP-9 blank household cells go on with the household above, also across a quoted line break', () => {
    const judged = aJudgedList(
      'Name,Street,Town,Stage,Last changed,Notes\nIda Holt,4 Mill Row,Saltgrass,Sediment,2026-05-09,"two\nlines"\n,,,Membrane,2024-05-09,\nBo Lund,5 Mill Row,Saltgrass,Carbon,2026-01-02,\n',
    )
    expect(judged.households.map(({ household }) => household.lines)).toEqual([[2, 4], [5]])
    expect(stagesOf(judged)).toEqual([
      ['sediment', '2026-05-09'],
      ['membrane', '2024-05-09'],
    ])
    expect(judged.households[0]?.household.note).toBe('two\nlines')
  })

  test('IMP-9 the same name at the same address is one household, wherever its rows stand', () => {
    const judged = aJudgedList(
      'Name,Street,Town,Stage,Last changed\nIda Holt,4 Mill Row,Saltgrass,Sediment,2026-05-09\nBo Lund,5 Mill Row,Saltgrass,Carbon,2026-01-02\n"Holt, Ida",4 MILL ROW,Saltgrass,Carbon,2026-05-09\n',
    )
    expect(judged.households.map(({ household }) => household.lines)).toEqual([[2, 4], [3]])
  })

  test('IMP-9 two filters of a kind on one day are two; on different days the later date stands', () => {
    const head = 'Name,Street,Stage,Last changed\nIda Holt,4 Mill Row,Carbon,2026-05-09\n'
    expect(stagesOf(aJudgedList(`${head},,Carbon,2026-05-09\n`))).toEqual([
      ['carbon', '2026-05-09'],
      ['carbon', '2026-05-09'],
    ])
    expect(stagesOf(aJudgedList(`${head},,Carbon,2025-05-09\n`))).toEqual([['carbon', '2026-05-09']])
  })

  test('IMP-9 one date for all filters gives the usual unit its dates', () => {
    const judged = aJudgedList(
      'Name,Street,Last filter change,Membrane changed\nIda Holt,4 Mill Row,5/9/2026,11/23/2023\n',
    )
    expect(stagesOf(judged)).toEqual([
      ['sediment', '2026-05-09'],
      ['carbon', '2026-05-09'],
      ['membrane', '2023-11-23'],
      ['tank', null],
      ['post-carbon', '2026-05-09'],
    ])
  })

  test('IMP-10 line 217 is refused under its own number, with what to do, and its neighbours are taken', () => {
    const rows = Array.from(
      { length: 300 },
      (_, index) => `Family ${String.fromCharCode(65 + (index % 26))}${index},${index} Mill Row,2026-05-09,"a\nb"`,
    )
    rows[108] = 'Holt,9999 Mill Row,2026-13-09,"a\nb"'
    // The header is line 1, and every row has two lines: the 109th row begins in line 218, one line after the break of the 108th.
    const judged = aJudgedList(`Name,Street,Sediment changed,Notes\n${rows.join('\n')}\n`)
    expect(refusedOf(judged)).toEqual([[218, '"2026-13-09" is not a date.']])
    expect(judged.refused[0]?.findings[0]).toMatchObject({
      column: 'Sediment changed',
      nextStep: 'Write it as 2026-11-09, or leave the cell blank.',
    })
    expect(judged.households).toHaveLength(299)
  })

  test('IMP-10 what can be done without is noted and kept in the note', () => {
    const judged = aJudgedList('Name,Street,Phone,Email,People\nIda Holt,4 Mill Row,call office,ida@,many\n')
    const household = judged.households[0]?.household
    expect(household?.note).toBe('Phone: call office\nEmail: ida@\nPeople: many')
    expect(household?.notes.every((finding) => !isRefusal(finding))).toBe(true)
    expect(household?.notes).toHaveLength(3)
  })

  test('IMP-10 rows that go on from a refused household are refused with it; a slipped row and a nameless one too', () => {
    const judged = aJudgedList(
      'Name,Street,Stage,Last changed\n,,Carbon,2026-05-09\nIda Holt,4 Mill Row,Sediment,soon\n,,Carbon,2026-05-09\nBo Lund,5 Mill Row,Sediment,2026-05-09,slipped\n,9 Quay Street,Sediment,2026-05-09\n',
    )
    expect(refusedOf(judged)).toEqual([
      [2, 'No household stands above this row.'],
      [3, '"soon" is not a date.'],
      [4, 'The row goes on with the household of line 3, which is not taken.'],
      [5, 'The row has more cells than the list has columns.'],
      [6, 'Nobody is named in this row.'],
    ])
    expect(refusal(1, '', 'a', 'b')).toMatchObject({ weight: 'refusal' })
    expect(note(1, '', 'a')).toMatchObject({ weight: 'note', nextStep: '' })
  })

  test('IMP-6 a date still to come, or in the other order, is refused; the judgement is said', () => {
    const judged = aJudgedList(
      'Name,Street,Sediment changed\nIda Holt,4 Mill Row,5/14/2026\nBo Lund,5 Mill Row,14/5/2026\nOda Ek,6 Mill Row,5/15/2027\nEva Lie,7 Mill Row,5/16/2026\n',
    )
    expect(judged.said[0]).toContain('mixes both orders')
    expect(refusedOf(judged).map(([line]) => line)).toEqual([3, 4])
  })

  test('IMP-6 a column of day numbers says so, and texts with an apostrophe are read', () => {
    const judged = aJudgedList("Name,Zip,Sediment changed\nIda Holt,'00145,45992\nBo Lund,145,45993\n")
    expect(judged.households.map(({ household }) => household.address.postalCode)).toEqual(['00145', '00145'])
    expect(stagesOf(judged)).toEqual([['sediment', '2025-12-01']])
    expect(judged.said.join(' ')).toContain('day numbers of a spreadsheet')
  })

  test('IMP-21 no mail for whoever may have asked for none', () => {
    const judged = aJudgedList(
      'Name,Street,Do not mail\nIda Holt,4 Mill Row,x\nBo Lund,5 Mill Row,\nOda Ek,6 Mill Row,ask\n',
    )
    expect(judged.households.map(({ household }) => household.noMail)).toEqual([true, false, true])
  })

  test('what a household brings is said in words, and a choice stands', () => {
    const [one] = aJudgedList('Name,Street,Sediment changed\nIda Holt,4 Mill Row,2026-05-09\n').households
    if (!one) throw new Error('no household')
    expect(bringsInWords(one.household)).toBe('1 unit, 1 stage')
    expect(choiceFor(one, { [householdKey(one.household)]: 'leave-out' })).toBe('leave-out')
    expect(choiceFor(one, {})).toBe('new')
  })

  test('the pieces of a row by themselves', () => {
    const { sheet } = anOpenedList('Name,Sediment changed\nIda Holt,2026-05-09\n')
    const mapping = mappingOfGuesses(guessColumns(sheet, LIST_DAY))
    const places = columnPlaces(sheet, mapping)
    const manner = judgeManner(sheet, mapping, US_OFFICE)
    const [row] = sheet.rows
    if (!row) throw new Error('no row')
    expect(readStagesOfColumns(new RowCells(row, places), places, manner, [])).toHaveLength(1)
    const read = readRow(row, places, manner)
    expect(gatherUnits([read], [], [])[0]?.stages[0]?.kind).toBe('sediment')
    expect(groupRows([read], []).households).toHaveLength(1)
    expect(flowRank('sediment')).toBeLessThan(flowRank('membrane'))
  })
})

describe('mappings', () => {
  const columns = ['Name', 'Street', 'Sediment']
  const mapping: ListMapping = {
    uses: ['name', 'street', stageColumn('sediment', 1, 'changed-on')],
    dateOrder: null,
    hardnessUnit: null,
    usualStages: [...USUAL_STAGES],
  }

  test('IMP-8 is remembered by the names of the columns in whatever order, and beside our own columns', () => {
    expect(columnsKey(['Street', 'Name*', 'What is wrong', 'Sediment'])).toBe(columnsKey(columns))
    const kept = toRemember(columns, { ...mapping, uses: [...mapping.uses] })
    expect(fromRemembered(['Sediment', 'name', 'Other'], kept).uses).toEqual([
      'sediment/1/changed-on',
      'name',
      'ignore',
    ])
  })

  test('IMP-7 says what is still needed', () => {
    const gaps = (uses: Parameters<typeof mappingGaps>[1]['uses']): string[] =>
      mappingGaps(columns, { ...mapping, uses })
    expect(gaps([...mapping.uses])).toEqual([])
    expect(gaps(['phone', 'street', 'ignore'])[0]).toContain('No column holds a name')
    expect(gaps(['name', 'name', 'ignore'])[0]).toContain('are both "Name"')
    expect(gaps(['name', 'street', 'stage-changed-on'])[0]).toContain('none says which stage')
    expect(mappingRemarks({ ...mapping, uses: ['name'], usualStages: [] })).toHaveLength(2)
  })

  test('uses have names, and stage columns their parts', () => {
    expect(labelOfUse('carbon/2/part')).toBe('Carbon 2: part number')
    expect(labelOfUse('tank/1/changed-on')).toBe('Tank: last sanitised')
    expect(stageColumnParts('carbon/2/part')).toEqual({ kind: 'carbon', nth: 2, fact: 'part' })
    expect([isColumnUse('carbon/9/part'), isColumnUse('name'), mayRepeat('notes'), mayRepeat('name')]).toEqual([
      false,
      true,
      true,
      false,
    ])
  })

  test.each([
    ['', 'IMPORT_FILE_EMPTY'],
    ['Name\nIda\nBo', 'IMPORT_ONE_COLUMN'],
    ['Name,Street,Phone\n', 'IMPORT_NO_ROWS'],
  ])('IMP-13 %j is turned away', (text, code) => {
    expect(openList('list.csv', text, LIST_DAY)).toMatchObject({ ok: false, problem: { code } })
  })
})
