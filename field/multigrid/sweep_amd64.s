#include "textflag.h"

// Places in sweep.
#define OWN   0
#define RHS   8
#define OUT   16
#define PACK  24
#define UNIT  32
#define UNDER 36

// Places in stretch, and its size.
#define FIRST 0
#define CELLS 4
#define STEP(d) (8+4*d)
#define AT    24
#define ODD   28
#define PLAIN 29
#define SIZE  32

// Places in a swath's figures of four cells, and of one.
#define C(d)     (16*d)
#define INVERSE  96
#define WALL     112
#define C1(d)    (4*d)
#define INVERSE1 24
#define WALL1    28

// Every second of four float32, from the first or from the second.
DATA halves<>+0(SB)/4, $0xffffffff
DATA halves<>+4(SB)/4, $0
DATA halves<>+8(SB)/4, $0xffffffff
DATA halves<>+12(SB)/4, $0
DATA halves<>+16(SB)/4, $0
DATA halves<>+20(SB)/4, $0xffffffff
DATA halves<>+24(SB)/4, $0
DATA halves<>+28(SB)/4, $0xffffffff
GLOBL halves<>(SB), RODATA|NOPTR, $32

// Registers in all three: DI the sweep, R14 the stretch, AX the guarded number of the cell, CX how
// many are left, SI the own values, R8 to R11 those of the neighbours −y +y −z +z, R12 the swath's
// figures of the cell.

// BESIDE takes where the neighbours' values are; WIDTH is the size of a value.
#define BESIDE(WIDTH) \
	MOVLQSX STEP(0)(R14), R8       \
	LEAQ    (SI)(R8*WIDTH), R8     \
	MOVLQSX STEP(1)(R14), R9       \
	LEAQ    (SI)(R9*WIDTH), R9     \
	MOVLQSX STEP(2)(R14), R10      \
	LEAQ    (SI)(R10*WIDTH), R10   \
	MOVLQSX STEP(3)(R14), R11      \
	LEAQ    (SI)(R11*WIDTH), R11   \
	MOVLQSX AT(R14), R12           \
	SHLQ    $2, R12                \
	ADDQ    PACK(DI), R12          \
	MOVLQSX FIRST(R14), AX         \
	MOVLQSX CELLS(R14), CX

// TIMES adds four conductances at C times values at V to X0, TIME1 one.
#define TIMES(AT, FROM) \
	MOVUPS AT, X1   \
	MOVUPS FROM, X2 \
	MULPS  X2, X1   \
	ADDPS  X1, X0

#define TIME1(AT, FROM) \
	MOVSS AT, X1   \
	MULSS FROM, X1 \
	ADDSS X1, X0

// func relaxWide(v *sweep, s *stretch, count int, black bool)
TEXT ·relaxWide(SB), NOSPLIT, $0-25
	MOVQ   v+0(FP), DI
	MOVQ   s+8(FP), R14
	MOVQ   OWN(DI), SI
	MOVQ   RHS(DI), R13
	MOVSS  UNIT(DI), X14
	SHUFPS $0, X14, X14
	MOVSS  UNDER(DI), X13
	SHUFPS $0, X13, X13
	SUBQ   $SIZE, R14

next:
	DECQ count+16(FP)
	JLT  done
	ADDQ $SIZE, R14
	BESIDE(4)
	MOVBLZX ODD(R14), BX
	XORB    black+24(FP), BX // 1: the first cell is of the other colour
	CMPB    PLAIN(R14), $0
	JNE     plain
	CMPQ    CX, $4
	JLT     cells
	SHLQ    $4, BX
	LEAQ    halves<>(SB), R15
	MOVUPS  (R15)(BX*1), X15
	SHRQ    $4, BX
	MOVUPS  -4(SI)(AX*4), X6

cut:
	SUBQ   $4, CX
	MOVUPS (R13)(AX*4), X0
	MOVUPS C(0)(R12), X1
	MULPS  X6, X1
	ADDPS  X1, X0
	TIMES(C(1)(R12), 4(SI)(AX*4))
	TIMES(C(2)(R12), (R8)(AX*4))
	TIMES(C(3)(R12), (R9)(AX*4))
	TIMES(C(4)(R12), (R10)(AX*4))
	TIMES(C(5)(R12), (R11)(AX*4))
	MOVUPS INVERSE(R12), X1
	MULPS  X1, X0
	MOVUPS (SI)(AX*4), X2
	ANDPS  X15, X0
	MOVAPS X15, X3
	ANDNPS X2, X3
	ORPS   X3, X0
	CMPQ   CX, $4
	JLT    last
	MOVUPS 12(SI)(AX*4), X6 // before the store: what of it is used is not changed, and it need not wait
	MOVUPS X0, (SI)(AX*4)
	ADDQ   $4, AX
	ADDQ   $128, R12
	JMP    cut

last:
	MOVUPS X0, (SI)(AX*4)
	ADDQ   $4, AX
	ADDQ   $128, R12

cells:
	ADDQ BX, AX
	SUBQ BX, CX
	SHLQ $5, BX
	ADDQ BX, R12

cell:
	CMPQ  CX, $0
	JLE   next
	MOVSS (R13)(AX*4), X0
	TIME1(C1(0)(R12), -4(SI)(AX*4))
	TIME1(C1(1)(R12), 4(SI)(AX*4))
	TIME1(C1(2)(R12), (R8)(AX*4))
	TIME1(C1(3)(R12), (R9)(AX*4))
	TIME1(C1(4)(R12), (R10)(AX*4))
	TIME1(C1(5)(R12), (R11)(AX*4))
	MULSS INVERSE1(R12), X0
	MOVSS X0, (SI)(AX*4)
	ADDQ  $2, AX
	ADDQ  $64, R12
	SUBQ  $2, CX
	JMP   cell

plain:
	SHLQ   $4, BX
	LEAQ   halves<>(SB), R15
	MOVUPS (R15)(BX*1), X15
	MOVUPS -4(SI)(AX*4), X6

alike:
	MOVUPS 4(SI)(AX*4), X0
	ADDPS  X6, X0
	MOVUPS (R8)(AX*4), X1
	MOVUPS (R9)(AX*4), X2
	ADDPS  X2, X1
	MOVUPS (R10)(AX*4), X3
	MOVUPS (R11)(AX*4), X4
	ADDPS  X4, X3
	ADDPS  X1, X0
	ADDPS  X3, X0
	MULPS  X14, X0
	MOVUPS (R13)(AX*4), X1
	ADDPS  X1, X0
	MULPS  X13, X0
	MOVUPS (SI)(AX*4), X2
	ANDPS  X15, X0
	MOVAPS X15, X3
	ANDNPS X2, X3
	ORPS   X3, X0
	MOVUPS 12(SI)(AX*4), X6
	MOVUPS X0, (SI)(AX*4)
	ADDQ   $4, AX
	SUBQ   $4, CX
	JGT    alike
	JMP    next

done:
	RET

// FALL adds conductances at C times what the own values, X4, have more than those at V to X0.
#define FALL(AT, FROM) \
	MOVUPS FROM, X2 \
	MOVAPS X4, X1   \
	SUBPS  X2, X1   \
	MOVUPS AT, X2   \
	MULPS  X2, X1   \
	ADDPS  X1, X0

#define FALL1(AT, FROM) \
	MOVAPS X4, X1   \
	SUBSS  FROM, X1 \
	MULSS  AT, X1   \
	ADDSS  X1, X0

// LESS sets X to what the own values, X4, have more than those at V.
#define LESS(FROM, X) \
	MOVUPS FROM, X2 \
	MOVAPS X4, X    \
	SUBPS  X2, X

// func residualWide(v *sweep, s *stretch, count int)
TEXT ·residualWide(SB), NOSPLIT, $0-24
	MOVQ   v+0(FP), DI
	MOVQ   s+8(FP), R14
	MOVQ   OWN(DI), SI
	MOVQ   RHS(DI), R13
	MOVQ   OUT(DI), DX
	MOVSS  UNIT(DI), X14
	SHUFPS $0, X14, X14
	SUBQ   $SIZE, R14

next:
	DECQ count+16(FP)
	JLT  done
	ADDQ $SIZE, R14
	BESIDE(4)
	CMPB PLAIN(R14), $0
	JNE  alike

cut:
	SUBQ   $4, CX
	JLT    cells
	MOVUPS (SI)(AX*4), X4
	MOVUPS WALL(R12), X0
	MULPS  X4, X0
	FALL(C(0)(R12), -4(SI)(AX*4))
	FALL(C(1)(R12), 4(SI)(AX*4))
	FALL(C(2)(R12), (R8)(AX*4))
	FALL(C(3)(R12), (R9)(AX*4))
	FALL(C(4)(R12), (R10)(AX*4))
	FALL(C(5)(R12), (R11)(AX*4))
	MOVUPS (R13)(AX*4), X1
	SUBPS  X0, X1
	MOVUPS X1, (DX)(AX*4)
	ADDQ   $4, AX
	ADDQ   $128, R12
	JMP    cut

cells:
	ADDQ $4, CX

cell:
	DECQ  CX
	JLT   next
	MOVSS (SI)(AX*4), X4
	MOVSS WALL1(R12), X0
	MULSS X4, X0
	FALL1(C1(0)(R12), -4(SI)(AX*4))
	FALL1(C1(1)(R12), 4(SI)(AX*4))
	FALL1(C1(2)(R12), (R8)(AX*4))
	FALL1(C1(3)(R12), (R9)(AX*4))
	FALL1(C1(4)(R12), (R10)(AX*4))
	FALL1(C1(5)(R12), (R11)(AX*4))
	MOVSS (R13)(AX*4), X1
	SUBSS X0, X1
	MOVSS X1, (DX)(AX*4)
	INCQ  AX
	ADDQ  $32, R12
	JMP   cell

alike:
	MOVUPS (SI)(AX*4), X4
	LESS(-4(SI)(AX*4), X0)
	LESS(4(SI)(AX*4), X1)
	ADDPS  X1, X0
	LESS((R8)(AX*4), X1)
	LESS((R9)(AX*4), X3)
	ADDPS  X3, X1
	ADDPS  X1, X0
	LESS((R10)(AX*4), X1)
	LESS((R11)(AX*4), X3)
	ADDPS  X3, X1
	ADDPS  X1, X0
	MULPS  X14, X0
	MOVUPS (R13)(AX*4), X1
	SUBPS  X0, X1
	MOVUPS X1, (DX)(AX*4)
	ADDQ   $4, AX
	SUBQ   $4, CX
	JGT    alike
	JMP    next

done:
	RET

#define FALL2(AT, FROM) \
	MOVUPD   FROM, X2 \
	MOVAPD   X4, X1   \
	SUBPD    X2, X1   \
	CVTPS2PD AT, X2   \
	MULPD    X2, X1   \
	ADDPD    X1, X0

#define FALL1D(AT, FROM) \
	MOVAPD   X4, X1   \
	SUBSD    FROM, X1 \
	CVTSS2SD AT, X2   \
	MULSD    X2, X1   \
	ADDSD    X1, X0

// TWO does two cells.
#define TWO \
	MOVUPD   (SI)(AX*8), X4          \
	CVTPS2PD WALL(R12), X0           \
	MULPD    X4, X0                  \
	FALL2(C(0)(R12), -8(SI)(AX*8))   \
	FALL2(C(1)(R12), 8(SI)(AX*8))    \
	FALL2(C(2)(R12), (R8)(AX*8))     \
	FALL2(C(3)(R12), (R9)(AX*8))     \
	FALL2(C(4)(R12), (R10)(AX*8))    \
	FALL2(C(5)(R12), (R11)(AX*8))    \
	MOVUPD   X0, (DX)(AX*8)          \
	ADDQ     $2, AX

#define LESS2(FROM, X) \
	MOVUPD FROM, X2 \
	MOVAPD X4, X    \
	SUBPD  X2, X

// func timesWide(v *sweep, s *stretch, count int, y, x *float64)
TEXT ·timesWide(SB), NOSPLIT, $0-40
	MOVQ     v+0(FP), DI
	MOVQ     s+8(FP), R14
	MOVQ     y+24(FP), DX
	MOVQ     x+32(FP), SI
	CVTSS2SD UNIT(DI), X14
	UNPCKLPD X14, X14
	SUBQ     $SIZE, R14

next:
	DECQ count+16(FP)
	JLT  done
	ADDQ $SIZE, R14
	BESIDE(8)
	CMPB PLAIN(R14), $0
	JNE  alike

cut:
	SUBQ $4, CX
	JLT  cells
	TWO
	ADDQ $8, R12
	TWO
	ADDQ $120, R12
	JMP  cut

cells:
	ADDQ $4, CX

cell:
	DECQ     CX
	JLT      next
	MOVSD    (SI)(AX*8), X4
	CVTSS2SD WALL1(R12), X0
	MULSD    X4, X0
	FALL1D(C1(0)(R12), -8(SI)(AX*8))
	FALL1D(C1(1)(R12), 8(SI)(AX*8))
	FALL1D(C1(2)(R12), (R8)(AX*8))
	FALL1D(C1(3)(R12), (R9)(AX*8))
	FALL1D(C1(4)(R12), (R10)(AX*8))
	FALL1D(C1(5)(R12), (R11)(AX*8))
	MOVSD    X0, (DX)(AX*8)
	INCQ     AX
	ADDQ     $32, R12
	JMP      cell

alike:
	MOVUPD (SI)(AX*8), X4
	LESS2(-8(SI)(AX*8), X0)
	LESS2(8(SI)(AX*8), X1)
	ADDPD  X1, X0
	LESS2((R8)(AX*8), X1)
	LESS2((R9)(AX*8), X3)
	ADDPD  X3, X1
	ADDPD  X1, X0
	LESS2((R10)(AX*8), X1)
	LESS2((R11)(AX*8), X3)
	ADDPD  X3, X1
	ADDPD  X1, X0
	MULPD  X14, X0
	MOVUPD X0, (DX)(AX*8)
	ADDQ   $2, AX
	SUBQ   $2, CX
	JGT    alike
	JMP    next

done:
	RET
