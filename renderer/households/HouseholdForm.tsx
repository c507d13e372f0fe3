import { useMutation } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import {
  type CustomerFields,
  customerFieldsSchema,
  type SiteFields,
  siteFieldsSchema,
} from '../../core/customers/customers-contract.ts'
import { rebased } from '../../core/customers/rebase.ts'
import type { HouseholdSheet } from '../../core/due/due-contract.ts'
import type { SiteId } from '../../core/units/ids.ts'
import { Button } from '../design/Button.tsx'
import { formProblems } from '../design/form-problems.ts'
import { ProblemNote } from '../design/ProblemNote.tsx'
import { SecondSheet } from '../design/Sheet.tsx'
import { useSay } from '../design/undo.ts'
import { useDraft } from '../design/use-draft.ts'
import { ask, office, problemOf } from '../shell/office-door.ts'
import { useOfficeState } from '../shell/office-state.ts'
import { CustomerPart, SitePart } from './HouseholdFields.tsx'
import { type HouseholdDraft, newHousehold } from './household-draft.ts'
import './households.css'

interface HouseholdFormProps {
  /** Null for a new one. */
  readonly household: HouseholdSheet | null
  /** With the id of a household that was just added; null when the form was left. */
  readonly onDone: (added: SiteId | null) => void
}

/** The form of a household: who pays, and where the water is. What is typed is kept until it is saved or thrown away. */
export function HouseholdForm({ household, onDone }: HouseholdFormProps) {
  const { address } = useOfficeState()
  const initial = useMemo<HouseholdDraft>(() => {
    if (!household) return newHousehold(address)
    const { customer, site } = household
    return { customer, site, seen: { customer, site } }
  }, [household, address])
  const { draft, setDraft, discard, isChanged } = useDraft(`household-${household?.siteId ?? 'new'}`, initial)
  const [isTried, setTried] = useState(false)
  const say = useSay()
  const done = (siteId: SiteId, said: string): void => {
    discard()
    say({ said })
    onDone(household ? null : siteId)
  }
  const create = useMutation(
    ask.households.create.mutationOptions({
      onSuccess: ({ siteId }) => done(siteId, `${draft.customer.sortName} is in the books.`),
    }),
  )
  const save = useMutation(
    ask.households.save.mutationOptions({
      onSuccess: ({ siteId }) => done(siteId, `${draft.customer.sortName} is saved.`),
      onError: (error) => void (household && problemOf(error).code === 'RECORD_CHANGED' && carryOver(household.siteId)),
    }),
  )
  const carryOver = async (siteId: SiteId): Promise<void> => {
    const { customer, site } = await office.due.household({ siteId })
    setDraft((before) => ({
      customer: rebased(before.seen.customer, before.customer, customer),
      site: rebased(before.seen.site, before.site, site),
      seen: { customer, site },
    }))
  }
  const problems = {
    customer: formProblems(customerFieldsSchema, draft.customer),
    site: formProblems(siteFieldsSchema, draft.site),
  }
  const isWrong = Object.keys({ ...problems.customer, ...problems.site }).length > 0
  const submit = (): void => {
    setTried(true)
    if (isWrong) return
    const { customer, site, seen } = draft
    if (household) save.mutate({ siteId: household.siteId, customer, site, seen })
    else create.mutate({ customer, site })
  }
  const error = create.error ?? save.error
  const change = (part: { customer?: Partial<CustomerFields>; site?: Partial<SiteFields> }): void =>
    setDraft((before) => ({
      ...before,
      customer: { ...before.customer, ...part.customer },
      site: { ...before.site, ...part.site },
    }))
  const title = household ? `Change ${household.customer.sortName}` : 'A new household'
  return (
    <SecondSheet title={title} backTo={household ? 'the household' : 'the households'} onClose={() => onDone(null)}>
      <form
        className="household-form"
        onSubmit={(event) => {
          event.preventDefault()
          submit()
        }}
      >
        <CustomerPart
          customer={draft.customer}
          isNew={household === null}
          problems={isTried ? problems.customer : {}}
          onChange={(customer) => change({ customer })}
        />
        <SitePart site={draft.site} problems={isTried ? problems.site : {}} onChange={(site) => change({ site })} />
        {error !== null && (
          <ProblemNote problem={problemOf(error)} id={problemOf(error).id} kept="What you typed is still here." />
        )}
        <div className="form-foot">
          <Button kind="primary" type="submit" isDisabled={create.isPending || save.isPending}>
            {household ? 'Save the household' : 'Add the household'}
          </Button>
          <Button
            onPress={() => {
              discard()
              onDone(null)
            }}
          >
            {isChanged ? 'Throw away what I typed' : 'Leave the form'}
          </Button>
          {isTried && isWrong && <span className="bold">Something is still missing above.</span>}
        </div>
      </form>
    </SecondSheet>
  )
}
