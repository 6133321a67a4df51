import { Component, type ReactNode } from 'react'
import { useLocation } from 'react-router'
import { sayAtStart } from '../i18n/start-words.js'
import { Trouble } from './waiting.js'

/** What a page throws while it is drawn, or because it could not be loaded, ends here; another address tries again. */
export function Caught({ children }: { children: ReactNode }) {
  return <Boundary path={useLocation().pathname}>{children}</Boundary>
}

class Boundary extends Component<{ path: string; children: ReactNode }, { hasFailed: boolean }> {
  override state = { hasFailed: false }

  static getDerivedStateFromError() {
    return { hasFailed: true }
  }

  override componentDidUpdate({ path }: { path: string }) {
    if (path !== this.props.path && this.state.hasFailed) this.setState({ hasFailed: false })
  }

  override render() {
    // What could not be loaded is not asked for twice by the page that stands: a page that begins anew asks.
    const retry = () => location.reload()
    return this.state.hasFailed ? (
      <Trouble error={new Error(sayAtStart('failed'))} retry={retry} />
    ) : (
      this.props.children
    )
  }
}
