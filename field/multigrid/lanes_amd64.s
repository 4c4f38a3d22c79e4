#include "textflag.h"

// A cell's row of the matrix, manyCell, and what it takes of the coarser level, manyUp.
#define CELL   56
#define COND   24
#define DIAG   48
#define UNDER  52
#define UP     16

// SPREAD puts one float32 into all four places of a register.
#define SPREAD(from, to) MOVSS from, to; SHUFPS $0, to, to

// BESIDE puts a neighbour's eight lanes times the link's conductance into LO and HI. SI is x,
// R8 the cell.
#define BESIDE(d, LO, HI) \
	MOVLQSX (4*d)(R8), R9       \
	SHLQ    $5, R9              \
	SPREAD((COND+4*d)(R8), X8)  \
	MOVUPS  (SI)(R9*1), LO      \
	MOVUPS  16(SI)(R9*1), HI    \
	MULPS   X8, LO              \
	MULPS   X8, HI

// SUM puts the conductances times the neighbours' values into X0 and X1, in manyCell.sum's order.
#define SUM \
	BESIDE(0, X0, X1) \
	BESIDE(1, X2, X3) \
	ADDPS X2, X0      \
	ADDPS X3, X1      \
	BESIDE(2, X2, X3) \
	BESIDE(3, X4, X5) \
	ADDPS X4, X2      \
	ADDPS X5, X3      \
	ADDPS X2, X0      \
	ADDPS X3, X1      \
	BESIDE(4, X2, X3) \
	BESIDE(5, X4, X5) \
	ADDPS X4, X2      \
	ADDPS X5, X3      \
	ADDPS X2, X0      \
	ADDPS X3, X1

// func relaxLanes(x, b *[Lanes]float32, cells *manyCell, list *int32, n int)
TEXT ·relaxLanes(SB), NOSPLIT, $0-40
	MOVQ x+0(FP), SI
	MOVQ b+8(FP), DI
	MOVQ cells+16(FP), BX
	MOVQ list+24(FP), CX
	MOVQ n+32(FP), DX

relax:
	TESTQ   DX, DX
	JLE     relaxed
	MOVLQSX (CX), AX
	IMUL3Q  $CELL, AX, R8
	ADDQ    BX, R8
	SHLQ    $5, AX
	SUM
	MOVUPS  (DI)(AX*1), X2
	MOVUPS  16(DI)(AX*1), X3
	ADDPS   X0, X2
	ADDPS   X1, X3
	SPREAD(UNDER(R8), X8)
	MULPS   X8, X2
	MULPS   X8, X3
	MOVUPS  X2, (SI)(AX*1)
	MOVUPS  X3, 16(SI)(AX*1)
	ADDQ    $4, CX
	DECQ    DX
	JMP     relax

relaxed:
	RET

// func timesLanes(y, x *[Lanes]float32, cells *manyCell, first, end int)
TEXT ·timesLanes(SB), NOSPLIT, $0-40
	MOVQ   y+0(FP), DI
	MOVQ   x+8(FP), SI
	MOVQ   cells+16(FP), R8
	MOVQ   first+24(FP), AX
	MOVQ   end+32(FP), DX
	SUBQ   AX, DX
	IMUL3Q $CELL, AX, R9
	ADDQ   R9, R8
	SHLQ   $5, AX

times:
	TESTQ  DX, DX
	JLE    timed
	SUM
	SPREAD(DIAG(R8), X8)
	MOVUPS (SI)(AX*1), X2
	MOVUPS 16(SI)(AX*1), X3
	MULPS  X8, X2
	MULPS  X8, X3
	SUBPS  X0, X2
	SUBPS  X1, X3
	MOVUPS X2, (DI)(AX*1)
	MOVUPS X3, 16(DI)(AX*1)
	ADDQ   $CELL, R8
	ADDQ   $32, AX
	DECQ   DX
	JMP    times

timed:
	RET

// GIVE adds X2 and X3 to the coarser cell whose number stands at an offset of the cell's manyUp.
#define GIVE(offset) \
	MOVLQSX offset(R11), R9     \
	SHLQ    $5, R9              \
	MOVUPS  (R10)(R9*1), X4     \
	MOVUPS  16(R10)(R9*1), X5   \
	ADDPS   X2, X4              \
	ADDPS   X3, X5              \
	MOVUPS  X4, (R10)(R9*1)     \
	MOVUPS  X5, 16(R10)(R9*1)

DATA quarter<>+0(SB)/4, $0.25
GLOBL quarter<>(SB), RODATA|NOPTR, $4

// func restrictLanes(coarse, b, x *[Lanes]float32, cells *manyCell, up *manyUp, first, end int)
TEXT ·restrictLanes(SB), NOSPLIT, $0-56
	MOVQ   coarse+0(FP), R10
	MOVQ   b+8(FP), DI
	MOVQ   x+16(FP), SI
	MOVQ   cells+24(FP), R8
	MOVQ   up+32(FP), R11
	MOVQ   first+40(FP), AX
	MOVQ   end+48(FP), DX
	SUBQ   AX, DX
	IMUL3Q $CELL, AX, R9
	ADDQ   R9, R8
	SHLQ   $4, AX
	ADDQ   AX, R11
	ADDQ   AX, AX
	SPREAD(quarter<>(SB), X9)

restrict:
	TESTQ  DX, DX
	JLE    restricted
	SUM
	MOVUPS (DI)(AX*1), X2
	MOVUPS 16(DI)(AX*1), X3
	ADDPS  X0, X2
	ADDPS  X1, X3
	SPREAD(DIAG(R8), X8)
	MOVUPS (SI)(AX*1), X4
	MOVUPS 16(SI)(AX*1), X5
	MULPS  X8, X4
	MULPS  X8, X5
	SUBPS  X4, X2
	SUBPS  X5, X3
	MULPS  X9, X2
	MULPS  X9, X3
	GIVE(0)
	GIVE(4)
	GIVE(8)
	GIVE(12)
	ADDQ   $CELL, R8
	ADDQ   $UP, R11
	ADDQ   $32, AX
	DECQ   DX
	JMP    restrict

restricted:
	RET

// TAKE adds the coarser cell whose number stands at an offset of the cell's manyUp to X2 and X3.
#define TAKE(offset) \
	MOVLQSX offset(R11), R9     \
	SHLQ    $5, R9              \
	MOVUPS  (R10)(R9*1), X4     \
	MOVUPS  16(R10)(R9*1), X5   \
	ADDPS   X4, X2              \
	ADDPS   X5, X3

// func prolongLanes(x, coarse *[Lanes]float32, up *manyUp, first, end int)
TEXT ·prolongLanes(SB), NOSPLIT, $0-40
	MOVQ x+0(FP), SI
	MOVQ coarse+8(FP), R10
	MOVQ up+16(FP), R11
	MOVQ first+24(FP), AX
	MOVQ end+32(FP), DX
	SUBQ AX, DX
	SHLQ $4, AX
	ADDQ AX, R11
	ADDQ AX, AX
	SPREAD(quarter<>(SB), X9)

prolong:
	TESTQ   DX, DX
	JLE     prolonged
	MOVLQSX (R11), R9
	SHLQ    $5, R9
	MOVUPS  (R10)(R9*1), X2
	MOVUPS  16(R10)(R9*1), X3
	TAKE(4)
	TAKE(8)
	TAKE(12)
	MULPS   X9, X2
	MULPS   X9, X3
	MOVUPS  (SI)(AX*1), X0
	MOVUPS  16(SI)(AX*1), X1
	ADDPS   X2, X0
	ADDPS   X3, X1
	MOVUPS  X0, (SI)(AX*1)
	MOVUPS  X1, 16(SI)(AX*1)
	ADDQ    $UP, R11
	ADDQ    $32, AX
	DECQ    DX
	JMP     prolong

prolonged:
	RET

// func addLanes(y, x, by *[Lanes]float32, n int)
TEXT ·addLanes(SB), NOSPLIT, $0-32
	MOVQ   y+0(FP), DI
	MOVQ   x+8(FP), SI
	MOVQ   by+16(FP), BX
	MOVQ   n+24(FP), DX
	MOVUPS (BX), X8
	MOVUPS 16(BX), X9

add:
	TESTQ  DX, DX
	JLE    added
	MOVUPS (SI), X0
	MOVUPS 16(SI), X1
	MULPS  X8, X0
	MULPS  X9, X1
	MOVUPS (DI), X2
	MOVUPS 16(DI), X3
	ADDPS  X0, X2
	ADDPS  X1, X3
	MOVUPS X2, (DI)
	MOVUPS X3, 16(DI)
	ADDQ   $32, SI
	ADDQ   $32, DI
	DECQ   DX
	JMP    add

added:
	RET

// func foldLanes(y, x, by *[Lanes]float32, n int)
TEXT ·foldLanes(SB), NOSPLIT, $0-32
	MOVQ   y+0(FP), DI
	MOVQ   x+8(FP), SI
	MOVQ   by+16(FP), BX
	MOVQ   n+24(FP), DX
	MOVUPS (BX), X8
	MOVUPS 16(BX), X9

fold:
	TESTQ  DX, DX
	JLE    folded
	MOVUPS (DI), X0
	MOVUPS 16(DI), X1
	MULPS  X8, X0
	MULPS  X9, X1
	MOVUPS (SI), X2
	MOVUPS 16(SI), X3
	ADDPS  X2, X0
	ADDPS  X3, X1
	MOVUPS X0, (DI)
	MOVUPS X1, 16(DI)
	ADDQ   $32, SI
	ADDQ   $32, DI
	DECQ   DX
	JMP    fold

folded:
	RET

// DOUBLES adds the four float32 of FROM to the sums of two float64 each in LO and HI.
#define DOUBLES(FROM, LO, HI) \
	CVTPS2PD FROM, X2       \
	ADDPD    X2, LO         \
	MOVHLPS  FROM, FROM     \
	CVTPS2PD FROM, X2       \
	ADDPD    X2, HI

// func dotLanes(sum *[Lanes]float64, x, y *[Lanes]float32, n int)
TEXT ·dotLanes(SB), NOSPLIT, $0-32
	MOVQ  sum+0(FP), BX
	MOVQ  x+8(FP), SI
	MOVQ  y+16(FP), DI
	MOVQ  n+24(FP), DX
	XORPS X4, X4
	XORPS X5, X5
	XORPS X6, X6
	XORPS X7, X7

dot:
	TESTQ  DX, DX
	JLE    dotted
	MOVUPS (SI), X0
	MOVUPS 16(SI), X1
	MOVUPS (DI), X2
	MOVUPS 16(DI), X3
	MULPS  X2, X0
	MULPS  X3, X1
	DOUBLES(X0, X4, X5)
	DOUBLES(X1, X6, X7)
	ADDQ   $32, SI
	ADDQ   $32, DI
	DECQ   DX
	JMP    dot

dotted:
	MOVUPS X4, (BX)
	MOVUPS X5, 16(BX)
	MOVUPS X6, 32(BX)
	MOVUPS X7, 48(BX)
	RET

// func mixLanes(sum, x *[Lanes]float32, cells *int32, weights *float32, n int)
TEXT ·mixLanes(SB), NOSPLIT, $0-40
	MOVQ  sum+0(FP), BX
	MOVQ  x+8(FP), SI
	MOVQ  cells+16(FP), CX
	MOVQ  weights+24(FP), DI
	MOVQ  n+32(FP), DX
	XORPS X0, X0
	XORPS X1, X1

mix:
	TESTQ   DX, DX
	JLE     mixed
	MOVLQSX (CX), R9
	SHLQ    $5, R9
	SPREAD((DI), X8)
	MOVUPS  (SI)(R9*1), X2
	MOVUPS  16(SI)(R9*1), X3
	MULPS   X8, X2
	MULPS   X8, X3
	ADDPS   X2, X0
	ADDPS   X3, X1
	ADDQ    $4, CX
	ADDQ    $4, DI
	DECQ    DX
	JMP     mix

mixed:
	MOVUPS X0, (BX)
	MOVUPS X1, 16(BX)
	RET
