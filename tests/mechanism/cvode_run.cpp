#include "tests/mechanism/cvode_run.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

namespace batten::tests {

namespace {

int derivative(sunrealtype, N_Vector y, N_Vector y_dot, void* data) {
  auto& trial = *static_cast<Trial*>(data);
  const int n = trial.model.count;
  const double* from = N_VGetArrayPointer(y);
  double* to = N_VGetArrayPointer(y_dot);
  for (int i = 0; i < n; ++i) {
    trial.q(i) = from[i];
    trial.v(i) = from[n + i];
    to[i] = from[n + i];
  }
  mechanism::calc_acceleration(trial.model, trial.motion, trial.extra, trial.options, trial.forces,
                               to + n);
  return 0;
}

}  // namespace

bool integrate_by_cvode(Trial& trial, double seconds, double relative, CvodeCounts* counts) {
  SUNContext context = nullptr;
  if (SUNContext_Create(nullptr, &context) != 0) return false;
  const int n = trial.model.count;
  N_Vector y = N_VNew_Serial(2 * n, context);
  double* values = N_VGetArrayPointer(y);
  for (int i = 0; i < n; ++i) {
    values[i] = trial.q(i);
    values[n + i] = trial.v(i);
  }
  SUNMatrix matrix = SUNDenseMatrix(2 * n, 2 * n, context);
  SUNLinearSolver solver = SUNLinSol_Dense(y, matrix, context);
  void* memory = CVodeCreate(CV_BDF, context);
  bool good = CVodeInit(memory, derivative, 0, y) == CV_SUCCESS &&
              CVodeSStolerances(memory, relative, relative / 100) == CV_SUCCESS &&
              CVodeSetUserData(memory, &trial) == CV_SUCCESS &&
              CVodeSetMaxNumSteps(memory, 5000000) == CV_SUCCESS &&
              CVodeSetStopTime(memory, seconds) == CV_SUCCESS &&
              CVodeSetLinearSolver(memory, solver, matrix) == CV_SUCCESS;
  double reached = 0;
  good = good && CVode(memory, seconds, y, &reached, CV_NORMAL) >= 0;
  if (counts != nullptr) {
    CVodeGetNumSteps(memory, &counts->steps);
    CVodeGetNumRhsEvals(memory, &counts->evaluations);
  }
  for (int i = 0; i < n; ++i) {
    trial.q(i) = values[i];
    trial.v(i) = values[n + i];
  }
  trial.time += reached;
  CVodeFree(&memory);
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
  N_VDestroy(y);
  SUNContext_Free(&context);
  return good && reached >= seconds * (1 - 1e-12);
}

}  // namespace batten::tests
