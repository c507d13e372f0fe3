import type { ReactNode } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Button } from './Button.tsx'
import './dialog.css'

interface DecisionProps {
  readonly isOpen: boolean
  /** The question, naming what will happen: "Take back the run of 42 letters?" */
  readonly title: string
  /** What it will do and what it will not. Fields of the decision may stand here too. */
  readonly children: ReactNode
  /** The verb with its object: "Take back 42 letters". */
  readonly doIt: string
  readonly onDoIt: () => void
  /** The way out: "Keep the run". */
  readonly leaveIt: string
  readonly onLeaveIt: () => void
  readonly isBusy?: boolean
  /** What still stops it. */
  readonly isBlocked?: boolean
}

/** A decision that cannot simply be undone. Windows over the sheet are for nothing else. Escape leaves it. */
export function Decision(props: DecisionProps) {
  return (
    <ModalOverlay
      className="dialog-veil"
      isOpen={props.isOpen}
      onOpenChange={(open) => !open && props.onLeaveIt()}
      isDismissable={false}
    >
      <Modal className="dialog-place">
        <Dialog role="alertdialog" className="dialog">
          <Heading slot="title" className="dialog-title">
            {props.title}
          </Heading>
          <div className="dialog-body">{props.children}</div>
          <div className="form-foot">
            <Button
              kind="primary"
              onPress={props.onDoIt}
              isDisabled={props.isBusy === true || props.isBlocked === true}
            >
              {props.doIt}
            </Button>
            <Button onPress={props.onLeaveIt} autoFocus>
              {props.leaveIt}
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
