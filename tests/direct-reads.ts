// Finds where in-page code reads a property of what may be a form or a document by the object itself, which fields and frames named like
// the property can hide. By the compiler's types, so that other things with such properties are left alone.
import path from 'node:path';
import ts from 'typescript';

export interface DirectRead {
  /** Of the value that is read from. */
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The function that reads past such names. */
const PAST_NAMES = 'dom';

/** @returns by file; empty files are left out */
export function directReads(folder: string): ReadonlyMap<string, readonly DirectRead[]> {
  const at = path.join(folder, 'tsconfig.json');
  const { config } = ts.readConfigFile(at, (file) => ts.sys.readFile(file)) as { readonly config: unknown };
  const parsed = ts.parseJsonConfigFileContent(config, ts.sys, folder);
  const program = ts.createProgram({ rootNames: parsed.fileNames, options: { ...parsed.options, noEmit: true } });
  const checker = program.getTypeChecker();
  const mayBeHidden = maskedTypes(program, checker);
  const found = new Map<string, DirectRead[]>();
  for (const source of program.getSourceFiles()) {
    if (source.isDeclarationFile || !source.fileName.startsWith(folder)) continue;
    const add = (value: ts.Node): void => {
      const list = found.get(source.fileName) ?? [];
      list.push({ start: value.getStart(source), end: value.getEnd(), text: value.getText(source) });
      found.set(source.fileName, list);
    };
    const visit = (node: ts.Node): void => {
      const value = valueReadFrom(node);
      if (value !== null && !isCallOf(value, PAST_NAMES) && mayBeHidden(checker.getTypeAtLocation(value))) add(value);
      ts.forEachChild(node, visit);
    };
    visit(source);
  }
  return found;
}

/** `a` of `a.b`, `a[b]`, `'b' in a` and `const { b } = a`. */
function valueReadFrom(node: ts.Node): ts.Expression | null {
  if (ts.isPropertyAccessExpression(node) || ts.isElementAccessExpression(node)) return node.expression;
  if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.InKeyword) return node.right;
  if (ts.isVariableDeclaration(node) && ts.isObjectBindingPattern(node.name)) return node.initializer ?? null;
  return null;
}

function isCallOf(value: ts.Expression, name: string): boolean {
  return ts.isCallExpression(value) && ts.isIdentifier(value.expression) && value.expression.text === name;
}

function maskedTypes(program: ts.Program, checker: ts.TypeChecker): (type: ts.Type) => boolean {
  const [source] = program.getSourceFiles().filter((file) => file.fileName.endsWith('lib.dom.d.ts'));
  if (source === undefined) throw new Error('the types of the DOM were not found');
  const named = (name: string): ts.Type => {
    const [symbol] = checker.getSymbolsInScope(source, ts.SymbolFlags.Interface).filter((each) => each.name === name);
    if (symbol === undefined) throw new Error(`no type ${name}`);
    return checker.getDeclaredTypeOfSymbol(symbol);
  };
  const masked = [named('HTMLFormElement'), named('Document')];
  return (type) => {
    const parts = type.isUnion() ? type.types : [type];
    return parts.some((part) => {
      const real = checker.getNonNullableType(part);
      if ((real.flags & (ts.TypeFlags.Any | ts.TypeFlags.Unknown | ts.TypeFlags.Never)) !== 0) return false;
      if (!isOfTheDom(real, checker)) return false;
      return masked.some((form) => checker.isTypeAssignableTo(form, real));
    });
  };
}

/** Interfaces of the DOM alone: a shape such as `{ id: string }` fits a form as well. */
function isOfTheDom(type: ts.Type, checker: ts.TypeChecker): boolean {
  if ((type.flags & ts.TypeFlags.TypeParameter) !== 0) {
    const constraint = checker.getBaseConstraintOfType(type);
    return constraint !== undefined && isOfTheDom(constraint, checker);
  }
  if (type.isIntersection()) return type.types.some((part) => isOfTheDom(part, checker));
  return (type.getSymbol()?.declarations ?? []).some(({ parent }) => parent.getSourceFile().fileName.endsWith('lib.dom.d.ts'));
}
