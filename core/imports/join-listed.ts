import type { ListHousehold } from './group-rows.ts'
import { flowRank, type ListUnit, type UnitStage } from './list-units.ts'
import { normalPhone, plainWords } from './normal-forms.ts'

/** Two households of a list that are one: the first one's words stand, the second fills what is blank and adds what is missing. */
export function joinListed(first: ListHousehold, second: ListHousehold): ListHousehold {
  const known = new Set(first.phones.map(normalPhone))
  return {
    ...first,
    lines: [...first.lines, ...second.lines],
    reference: first.reference || second.reference,
    contact: first.contact || second.contact,
    phones: [...first.phones, ...second.phones.filter((phone) => !known.has(normalPhone(phone)))],
    emails: [...new Set([...first.emails, ...second.emails])],
    address: first.address.line1 === '' ? second.address : first.address,
    mail: first.mail ?? second.mail,
    noMail: first.noMail || second.noMail,
    people: first.people ?? second.people,
    hardness: first.hardness ?? second.hardness,
    tds: first.tds ?? second.tds,
    note: [...new Set([first.note, second.note])].filter((piece) => piece !== '').join('\n'),
    units: joinUnits(first.units, second.units),
    notes: [...first.notes, ...second.notes],
  }
}

function joinUnits(first: readonly ListUnit[], second: readonly ListUnit[]): ListUnit[] {
  const units = [...first]
  for (const unit of second) {
    const at = matchingUnit(units, unit.name)
    const there = units[at]
    if (there === undefined) units.push(unit)
    else
      units[at] = {
        name: there.name || unit.name,
        installedOn: there.installedOn ?? unit.installedOn,
        everyMonths: there.everyMonths ?? unit.everyMonths,
        stages: joinStages(there.stages, unit.stages),
      }
  }
  return units
}

/** Which of the units a name means: the one called so; where either side names none, the only one, else the first. -1 for none. */
export function matchingUnit(units: readonly { readonly name: string }[], name: string): number {
  const wanted = plainWords(name).join(' ')
  const same = units.findIndex((unit) => plainWords(unit.name).join(' ') === wanted)
  if (same >= 0) return same
  if (wanted === '') return units.length > 0 ? 0 : -1
  return units.length === 1 && units[0]?.name === '' ? 0 : -1
}

function joinStages(first: readonly UnitStage[], second: readonly UnitStage[]): UnitStage[] {
  const { pairs, added } = pairStages(first, second)
  const joined = first.map((stage, index) => {
    const other = pairs.get(index)
    if (other === undefined) return stage
    const later = other.changedOn !== null && (stage.changedOn === null || other.changedOn > stage.changedOn)
    const changedOn = later ? other.changedOn : stage.changedOn
    return {
      ...stage,
      label: stage.label || other.label,
      changedOn,
      dueOn: changedOn === null ? (stage.dueOn ?? other.dueOn) : null,
      months: stage.months ?? other.months,
      part: stage.part || other.part,
    }
  })
  return inFlow(joined, added)
}

/** Stages with others put among them, each behind the last one that stands before it in the flow; what was there keeps its order. */
export function inFlow<Stage extends { readonly kind: UnitStage['kind'] }>(
  there: readonly Stage[],
  added: readonly Stage[],
): Stage[] {
  const stages = [...there]
  for (const stage of added) {
    const after = stages.findLastIndex((other) => flowRank(other.kind) <= flowRank(stage.kind))
    stages.splice(after + 1, 0, stage)
  }
  return stages
}

/**
 * Pairs stages kind by kind in their order: the second carbon filter with the second. One that says which of its kind it is goes
 * with that one and no other, before the rest. `added` are those without a partner.
 */
export function pairStages<Stage extends { readonly kind: UnitStage['kind'] }>(
  known: readonly Stage[],
  told: readonly UnitStage[],
): { readonly pairs: ReadonlyMap<number, UnitStage>; readonly added: readonly UnitStage[] } {
  const pairs = new Map<number, UnitStage>()
  const added: UnitStage[] = []
  const ofKind = (kind: UnitStage['kind']): number[] =>
    known.flatMap((other, index) => (other.kind === kind ? [index] : []))
  const ranked = told.filter((stage) => stage.rank !== null)
  for (const stage of [...ranked, ...told.filter((one) => one.rank === null)]) {
    const places = ofKind(stage.kind)
    const at = stage.rank === null ? places.find((index) => !pairs.has(index)) : places[stage.rank - 1]
    if (at === undefined || pairs.has(at)) added.push(stage)
    else pairs.set(at, stage)
  }
  return { pairs, added: told.filter((stage) => added.includes(stage)) }
}
