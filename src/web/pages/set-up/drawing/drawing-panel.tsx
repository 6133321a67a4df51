import { usePontoonDrawing } from '../../../api/pontoon-drawing.js'
import { Trouble, Waiting } from '../../../shell/waiting.js'
import { DrawingBoard } from './drawing-board.js'
import '../../haul-out/haul-out.css'
import './drawing.css'

/** Pontoons drawn on a plan, berths on their sides. */
export default function DrawingPanel() {
  const drawing = usePontoonDrawing()
  if (drawing.isPending) return <Waiting />
  if (drawing.isError) return <Trouble error={drawing.error} retry={drawing.refetch} />
  return <DrawingBoard read={drawing.data} reread={async () => (await drawing.refetch()).data} />
}
