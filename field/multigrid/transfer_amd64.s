#include "textflag.h"

// Places in sums4.
#define OF      0
#define TOTAL   8
#define HIGH(d) (16+8*d)

// Places in kin, which begins with its stretch.
#define FIRST   0
#define CELLS   4
#define STEP(d) (8+4*d)
#define ROW(d)  (32+4*d)

// ROWS takes where the children of a family's four rows are, from what begins at SI.
#define ROWS \
	MOVLQSX ROW(0)(R14), R8   \
	LEAQ    (SI)(R8*4), R8    \
	MOVLQSX ROW(1)(R14), R9   \
	LEAQ    (SI)(R9*4), R9    \
	MOVLQSX ROW(2)(R14), R10  \
	LEAQ    (SI)(R10*4), R10  \
	MOVLQSX ROW(3)(R14), R11  \
	LEAQ    (SI)(R11*4), R11

// PAIRS takes the eight children of four families in a row: the sums of the low and the high ones
// to A, the high ones to B.
#define PAIRS(FROM, A, B) \
	MOVUPS (FROM)(AX*8), A   \
	MOVUPS 16(FROM)(AX*8), X9 \
	MOVAPS A, B              \
	SHUFPS $0x88, X9, A      \
	SHUFPS $0xdd, X9, B      \
	ADDPS  B, A

// func collectWide(v *sums4, k *kin)
TEXT ·collectWide(SB), NOSPLIT, $0-16
	MOVQ    v+0(FP), DI
	MOVQ    k+8(FP), R14
	MOVQ    OF(DI), SI
	ROWS
	MOVLQSX FIRST(R14), BX
	SHLQ    $2, BX
	MOVQ    TOTAL(DI), DX
	ADDQ    BX, DX
	MOVQ    HIGH(0)(DI), R12
	ADDQ    BX, R12
	MOVQ    HIGH(1)(DI), R13
	ADDQ    BX, R13
	ADDQ    HIGH(2)(DI), BX
	MOVLQSX CELLS(R14), CX
	XORQ    AX, AX

four:
	SUBQ   $4, CX
	JLT    done
	PAIRS(R8, X0, X4)
	PAIRS(R9, X1, X5)
	PAIRS(R10, X2, X6)
	PAIRS(R11, X3, X7)
	ADDPS  X5, X4
	ADDPS  X7, X6
	ADDPS  X6, X4
	MOVUPS X4, (R12)(AX*4)
	ADDPS  X1, X0
	ADDPS  X3, X1
	MOVUPS X1, (R13)(AX*4)
	ADDPS  X3, X2
	MOVUPS X2, (BX)(AX*4)
	ADDPS  X2, X0
	MOVUPS X0, (DX)(AX*4)
	ADDQ   $4, AX
	JMP    four

done:
	RET

// LOW adds to X0 what the children of the cell ahead hold on their low side.
#define LOW(T, H) \
	MOVUPS T, X1   \
	MOVUPS H, X2   \
	SUBPS  X2, X1

// func gatherWide(v *sums4, s *stretch)
TEXT ·gatherWide(SB), NOSPLIT, $0-16
	MOVQ    v+0(FP), DI
	MOVQ    s+8(FP), R14
	MOVQ    OF(DI), DX
	MOVQ    TOTAL(DI), SI
	MOVQ    HIGH(0)(DI), R12
	MOVQ    HIGH(1)(DI), BX
	MOVLQSX STEP(0)(R14), R8
	LEAQ    (BX)(R8*4), R8    // y behind
	MOVLQSX STEP(1)(R14), R10
	LEAQ    (BX)(R10*4), R9   // y ahead
	LEAQ    (SI)(R10*4), R10  // all ahead along y
	MOVQ    HIGH(2)(DI), BX
	MOVLQSX STEP(2)(R14), R11
	LEAQ    (BX)(R11*4), R11  // z behind
	MOVLQSX STEP(3)(R14), R15
	LEAQ    (BX)(R15*4), R13  // z ahead
	LEAQ    (SI)(R15*4), R15  // all ahead along z
	MOVLQSX FIRST(R14), AX
	MOVLQSX CELLS(R14), CX
	MOVL    $0x3e800000, BX   // a quarter
	MOVL    BX, X8
	SHUFPS  $0, X8, X8

four:
	MOVUPS -4(R12)(AX*4), X0
	MOVUPS (R8)(AX*4), X1
	ADDPS  X1, X0
	MOVUPS (R11)(AX*4), X1
	ADDPS  X1, X0
	LOW(4(SI)(AX*4), 4(R12)(AX*4))
	MOVAPS X1, X3
	LOW((R10)(AX*4), (R9)(AX*4))
	ADDPS  X1, X3
	LOW((R15)(AX*4), (R13)(AX*4))
	ADDPS  X1, X3
	ADDPS  X3, X0
	MOVUPS (SI)(AX*4), X1
	ADDPS  X1, X0
	MULPS  X8, X0
	MOVUPS X0, (DX)(AX*4)
	ADDQ   $4, AX
	SUBQ   $4, CX
	JGT    four
	RET

// PART sets X to a quarter of what values at FROM have more than the own ones, X0.
#define PART(FROM, X) \
	MOVUPS FROM, X \
	SUBPS  X0, X   \
	MULPS  X8, X

// CHILDREN adds to those of a row.
#define CHILDREN(AT, Y, Z) \
	MOVAPS   Y, X9           \
	ADDPS    Z, X9           \
	MOVAPS   X9, X10         \
	ADDPS    X1, X9          \
	ADDPS    X2, X10         \
	MOVAPS   X9, X11         \
	UNPCKLPS X10, X9         \
	UNPCKHPS X10, X11        \
	MOVUPS   (AT)(AX*8), X12 \
	ADDPS    X12, X9         \
	MOVUPS   X9, (AT)(AX*8)  \
	MOVUPS   16(AT)(AX*8), X12 \
	ADDPS    X12, X11        \
	MOVUPS   X11, 16(AT)(AX*8)

// func raiseWide(k *kin, x, correction *float32)
TEXT ·raiseWide(SB), NOSPLIT, $0-24
	MOVQ    k+0(FP), R14
	MOVQ    x+8(FP), SI
	ROWS
	MOVLQSX FIRST(R14), AX
	MOVQ    correction+16(FP), DI
	LEAQ    (DI)(AX*4), DI
	MOVLQSX STEP(0)(R14), R12
	LEAQ    (DI)(R12*4), R12
	MOVLQSX STEP(1)(R14), R13
	LEAQ    (DI)(R13*4), R13
	MOVLQSX STEP(2)(R14), R15
	LEAQ    (DI)(R15*4), R15
	MOVLQSX STEP(3)(R14), BX
	LEAQ    (DI)(BX*4), BX
	MOVLQSX CELLS(R14), CX
	MOVL    $0x3e800000, DX // a quarter
	MOVL    DX, X8
	SHUFPS  $0, X8, X8
	XORQ    AX, AX

four:
	SUBQ   $4, CX
	JLT    done
	MOVUPS (DI)(AX*4), X0
	PART(-4(DI)(AX*4), X1)
	PART(4(DI)(AX*4), X2)
	PART((R12)(AX*4), X3)
	ADDPS  X0, X3
	PART((R13)(AX*4), X4)
	ADDPS  X0, X4
	PART((R15)(AX*4), X5)
	PART((BX)(AX*4), X6)
	CHILDREN(R8, X3, X5)
	CHILDREN(R9, X4, X5)
	CHILDREN(R10, X3, X6)
	CHILDREN(R11, X4, X6)
	ADDQ   $4, AX
	JMP    four

done:
	RET
