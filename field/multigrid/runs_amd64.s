#include "textflag.h"

// Places in wideRun.
#define OWN   0
#define RHS   8
#define DIAG  16
#define OUT   24
#define AHEAD 32
#define C(d)  (40+8*d)
#define V(d)  (72+8*d)

// Every second of four float32, from the first or from the second.
DATA evens<>+0(SB)/4, $0xffffffff
DATA evens<>+4(SB)/4, $0
DATA evens<>+8(SB)/4, $0xffffffff
DATA evens<>+12(SB)/4, $0
GLOBL evens<>(SB), RODATA|NOPTR, $16
DATA odds<>+0(SB)/4, $0
DATA odds<>+4(SB)/4, $0xffffffff
DATA odds<>+8(SB)/4, $0
DATA odds<>+12(SB)/4, $0xffffffff
GLOBL odds<>(SB), RODATA|NOPTR, $16

// LOAD takes what is used in every step: SI the run's own values, R12 the conductances ahead along
// x, R8 to R11 the values beside along y and z.
#define LOAD \
	MOVQ OWN(DI), SI    \
	MOVQ AHEAD(DI), R12 \
	MOVQ V(0)(DI), R8   \
	MOVQ V(1)(DI), R9   \
	MOVQ V(2)(DI), R10  \
	MOVQ V(3)(DI), R11

// TIMES adds conductances at C times values at V to X0.
#define TIMES(AT, FROM) \
	MOVUPS AT, X1   \
	MOVUPS FROM, X2 \
	MULPS  X2, X1   \
	ADDPS  X1, X0

// func relaxWide(r *wideRun, n int, odd bool)
TEXT ·relaxWide(SB), NOSPLIT, $0-17
	MOVQ    r+0(FP), DI
	MOVQ    n+8(FP), CX
	MOVBLZX odd+16(FP), BX
	MOVUPS  evens<>(SB), X15
	TESTL   BX, BX
	JEQ     ready
	MOVUPS  odds<>(SB), X15

ready:
	LOAD
	MOVQ   RHS(DI), R13
	MOVQ   DIAG(DI), DX
	XORQ   AX, AX
	MOVUPS -4(SI), X6

relax:
	SUBQ   $4, CX
	JLT    relaxed
	MOVUPS (R13)(AX*1), X0
	MOVUPS -4(R12)(AX*1), X1
	MULPS  X6, X1
	ADDPS  X1, X0
	TIMES((R12)(AX*1), 4(SI)(AX*1))
	MOVQ   C(0)(DI), BX
	TIMES((BX)(AX*1), (R8)(AX*1))
	MOVQ   C(1)(DI), BX
	TIMES((BX)(AX*1), (R9)(AX*1))
	MOVQ   C(2)(DI), BX
	TIMES((BX)(AX*1), (R10)(AX*1))
	MOVQ   C(3)(DI), BX
	TIMES((BX)(AX*1), (R11)(AX*1))
	MOVUPS (DX)(AX*1), X1
	MULPS  X1, X0
	MOVUPS (SI)(AX*1), X2
	ANDPS  X15, X0
	MOVAPS X15, X3
	ANDNPS X2, X3
	ORPS   X3, X0
	CMPQ   CX, $4
	JLT    last
	MOVUPS 12(SI)(AX*1), X6 // before the store: what of it is used is not changed, and it need not wait

last:
	MOVUPS X0, (SI)(AX*1)
	ADDQ   $16, AX
	JMP    relax

relaxed:
	RET

// FALL adds conductances at C times what the own values, X4, have more than those at V to X0.
#define FALL(AT, FROM) \
	MOVUPS FROM, X2 \
	MOVAPS X4, X1   \
	SUBPS  X2, X1   \
	MOVUPS AT, X2   \
	MULPS  X2, X1   \
	ADDPS  X1, X0

// func residualWide(r *wideRun, n int)
TEXT ·residualWide(SB), NOSPLIT, $0-16
	MOVQ r+0(FP), DI
	MOVQ n+8(FP), CX
	LOAD
	MOVQ RHS(DI), R13
	MOVQ OUT(DI), DX
	XORQ AX, AX

residual:
	SUBQ   $4, CX
	JLT    done
	MOVUPS (SI)(AX*1), X4
	MOVQ   DIAG(DI), BX
	MOVUPS (BX)(AX*1), X0
	MULPS  X4, X0
	FALL(-4(R12)(AX*1), -4(SI)(AX*1))
	FALL((R12)(AX*1), 4(SI)(AX*1))
	MOVQ   C(0)(DI), BX
	FALL((BX)(AX*1), (R8)(AX*1))
	MOVQ   C(1)(DI), BX
	FALL((BX)(AX*1), (R9)(AX*1))
	MOVQ   C(2)(DI), BX
	FALL((BX)(AX*1), (R10)(AX*1))
	MOVQ   C(3)(DI), BX
	FALL((BX)(AX*1), (R11)(AX*1))
	MOVUPS (R13)(AX*1), X1
	SUBPS  X0, X1
	MOVUPS X1, (DX)(AX*1)
	ADDQ   $16, AX
	JMP    residual

done:
	RET
