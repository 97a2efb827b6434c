// Worlds of our own in documents of a page: Chromium calls them isolated worlds.
import type { CDPSession } from 'playwright';
import type { Evaluated, World } from '../page-driver.ts';

interface WorldIn {
  readonly cdp: CDPSession;
  readonly name: string;
  /** Of a frame in a process of its own; null where there is none. */
  readonly sessionOf: (frameId: string) => Promise<CDPSession | null>;
}

const HELD = 'gloam-held';

/** @throws Error there is no such frame in this session */
export async function openChromiumWorld(from: WorldIn, frameId: string): Promise<World> {
  const { cdp, name, sessionOf } = from;
  const made = await cdp.send('Page.createIsolatedWorld', { frameId, worldName: name, grantUniveralAccess: false });
  const { executionContextId: contextId } = made;
  const letGo = async (): Promise<void> => {
    await cdp.send('Runtime.releaseObjectGroup', { objectGroup: HELD });
  };
  const handleOf = async (expression: string): Promise<string | undefined> => {
    const { result } = await cdp.send('Runtime.evaluate', { expression, contextId, objectGroup: HELD });
    return result.objectId;
  };
  return {
    evaluate: async (expression): Promise<Evaluated> => {
      const answer = await cdp.send('Runtime.evaluate', { expression, contextId, returnByValue: true, awaitPromise: true });
      const { exceptionDetails: thrown } = answer;
      return thrown === undefined ? { value: answer.result.value } : { thrown: thrown.exception?.description ?? thrown.text };
    },
    nodes: async (expressions) => {
      // Node ids exist only after the document was asked for.
      await cdp.send('DOM.getDocument', { depth: 0 });
      const ids = expressions.map(async (expression) => {
        const objectId = await handleOf(expression);
        return objectId === undefined ? null : (await cdp.send('DOM.requestNode', { objectId })).nodeId;
      });
      const found = await Promise.all(ids);
      await letGo();
      return found.filter((id) => id !== null);
    },
    hand: async (roots, functionText) => {
      const handed = roots.map(async (backendNodeId) => {
        const { object } = await cdp.send('DOM.resolveNode', { backendNodeId, executionContextId: contextId, objectGroup: HELD });
        if (object.objectId === undefined) return null;
        const call = { functionDeclaration: functionText, objectId: object.objectId };
        const { result } = await cdp.send('Runtime.callFunctionOn', call);
        const value: unknown = result.value;
        return value;
      });
      // Those of frames of another origin are not for this world.
      const answers = await Promise.all(handed.map((each) => each.catch(() => null)));
      await letGo();
      return answers;
    },
    frame: async (expression) => {
      const objectId = await handleOf(expression);
      if (objectId === undefined) return null;
      const { node } = await cdp.send('DOM.describeNode', { objectId });
      if (node.frameId === undefined) return null;
      // In the same process it is a frame of the same session, in one of its own it has a session of its own.
      const here = await openChromiumWorld(from, node.frameId).catch(() => null);
      if (here !== null) return here;
      const session = await sessionOf(node.frameId);
      return session === null ? null : openChromiumWorld({ ...from, cdp: session }, node.frameId).catch(() => null);
    },
  };
}
