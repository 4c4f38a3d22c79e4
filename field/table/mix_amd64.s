#include "textflag.h"

// SPREAD puts one float32 into all four places of a register.
#define SPREAD(from, to) MOVSS from, to; SHUFPS $0, to, to

// ROW adds a factor times four figures of a row, at AX, to X0, and times the next four to X1.
#define ROW(at, factor) \
	MOVUPS (at)(AX*1), X2   \
	MOVUPS 16(at)(AX*1), X3 \
	MULPS  factor, X2       \
	MULPS  factor, X3       \
	ADDPS  X2, X0           \
	ADDPS  X3, X1

// func addFourWide(sum *float32, rows *[4]*float32, by *[4]float32, n int)
TEXT ·addFourWide(SB), NOSPLIT, $0-32
	MOVQ sum+0(FP), DI
	MOVQ rows+8(FP), SI
	MOVQ by+16(FP), BX
	MOVQ n+24(FP), CX
	MOVQ (SI), R8
	MOVQ 8(SI), R9
	MOVQ 16(SI), R10
	MOVQ 24(SI), R11
	SPREAD((BX), X8)
	SPREAD(4(BX), X9)
	SPREAD(8(BX), X10)
	SPREAD(12(BX), X11)
	XORQ AX, AX

add:
	SUBQ   $8, CX
	JLT    done
	MOVUPS (DI)(AX*1), X0
	MOVUPS 16(DI)(AX*1), X1
	ROW(R8, X8)
	ROW(R9, X9)
	ROW(R10, X10)
	ROW(R11, X11)
	MOVUPS X0, (DI)(AX*1)
	MOVUPS X1, 16(DI)(AX*1)
	ADDQ   $32, AX
	JMP    add

done:
	RET
