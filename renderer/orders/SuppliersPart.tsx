import { useQuery } from '@tanstack/react-query'
import { counted } from '../../core/units/date-words.ts'
import { Button } from '../design/Button.tsx'
import { SheetPart } from '../design/Sheet.tsx'
import { ask } from '../shell/office-door.ts'

/** Who sells parts to the office. */
export function SuppliersPart({ onOpen }: { readonly onOpen: (key: string) => void }) {
  const suppliers = useQuery(ask.orders.suppliers.queryOptions())
  return (
    <SheetPart
      title="Suppliers"
      aside={
        <Button kind="quiet" onPress={() => onOpen('supplier-new')}>
          Add a supplier
        </Button>
      }
    >
      {suppliers.data?.map((each) => (
        <p key={each.supplierId}>
          <Button kind="quiet" onPress={() => onOpen(`supplier-${each.supplierId}`)}>
            {each.name}
          </Button>{' '}
          <span className="second small">
            {each.closed
              ? 'nothing is ordered there any more'
              : [each.phone, `takes ${counted(each.leadTimeDays, 'day')}`].filter(Boolean).join(' · ')}
          </span>
        </p>
      ))}
      {suppliers.data?.length === 0 && <p className="second">Nobody sells you parts yet. Add a supplier first.</p>}
    </SheetPart>
  )
}
