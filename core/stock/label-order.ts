/** What labels are wanted of. */
export const LABEL_KINDS = ['lot', 'part', 'bin'] as const
export type LabelKind = (typeof LABEL_KINDS)[number]

/** Labels of one lot, part or bin, by its key in the books. */
export interface WantedLabels {
  readonly kind: LabelKind
  readonly id: number
  readonly count: number
}

export interface LabelOrder {
  readonly wanted: readonly WantedLabels[]
  /** The label of the first sheet to begin with, from 1. */
  readonly beginWith: number
  readonly partBars: 'own' | 'gtin'
}

/** Of one thing, and of all together: more is a slip of the hand. */
export const MOST_OF_ONE = 500
export const MOST_LABELS = 2000

/** The paper's address: `/papers/labels.pdf?of=lot-12x3,bin-7x1&from=4&bars=own`. */
export function labelsAddress({ wanted, beginWith, partBars }: LabelOrder): string {
  const of = wanted.map(({ kind, id, count }) => `${kind}-${id}x${count}`).join(',')
  return `/papers/labels.pdf?of=${of}&from=${beginWith}&bars=${partBars}`
}

/** The order that an address tells; null when it tells none. */
export function orderOfAddress(query: { get(name: string): string | null }): LabelOrder | null {
  const wanted: WantedLabels[] = []
  for (const each of (query.get('of') ?? '').split(',')) {
    const [, kind, id, count] = /^(lot|part|bin)-(\d{1,12})x(\d{1,3})$/.exec(each) ?? []
    if (!isKind(kind)) return null
    wanted.push({ kind, id: Number(id), count: Number(count) })
  }
  const beginWith = Number(query.get('from') ?? '1')
  if (!Number.isInteger(beginWith) || beginWith < 1) return null
  return { wanted, beginWith, partBars: query.get('bars') === 'gtin' ? 'gtin' : 'own' }
}

const isKind = (text: string | undefined): text is LabelKind => LABEL_KINDS.some((kind) => kind === text)
